// An unpaired phone asks once who works with it; nobody has to answer.
import { MyName } from "../../parts/names";
import { not_now, useMyNames } from "../../salon/who";
import "./who_once.css";

/** Returns the question beside the day. */
export function WhoOnce() {
  return (
    <MyName
      names={useMyNames()}
      heading="Your name on the record?"
      note="A printed record then says who worked. Settings can change it."
      without="No name"
      onWithout={not_now}
      class="who-once"
    />
  );
}
