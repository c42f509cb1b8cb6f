// Who is working: one tap on a name of the team, or a new name that joins it.
import { MyName } from "../../parts/names";
import { not_now, useMyNames } from "../../salon/who";
import "./style.css";

/** Returns the question in place of the page; Help and the clocks stay under it. */
export function WhoIsWorking() {
  const names = useMyNames();
  return (
    <MyName
      names={names}
      heading="Who is working?"
      note="Your entries on this phone carry your name."
      without={names.chosen ? "Leave it" : "Not now"}
      onWithout={not_now}
      leads
      class="who"
    />
  );
}
