// What a client's head did, kept so that the next visit starts from it; shown, and removable.
import { one } from "../../records/read";
import type { Zone } from "../../salon/service/services";
import { judgement, learn, unlearn } from "./actions";
import "./style.css";

/** Returns what is kept of this head, or the way to keep what it has just done. */
export function Learnt({ client, zone }: { client: string; zone: Zone }) {
  const learnt = one("client", client).value?.learnt;
  const asked = judgement.asked.value;
  if (asked.state !== "answered" && !learnt) return null;
  return (
    <section class="judge" aria-label="What this head did">
      {learnt && <p>{learnt_words(learnt)} The next visit starts from this.</p>}
      {asked.state === "answered" && (
        <button type="button" onClick={() => void learn(client, zone)}>
          {learnt ? "Take over what it did today" : "Start the next visit from what it did"}
        </button>
      )}
      {learnt && (
        <button type="button" onClick={() => void unlearn(client)}>
          Forget what this head did
        </button>
      )}
    </section>
  );
}

function learnt_words({ rate, uptake }: { rate?: number; uptake?: number }): string {
  const percent = (of: number) => `${Math.round(Math.abs(of - 1) * 100)} %`;
  const speed =
    rate === undefined || percent(rate) === "0 %"
      ? "takes colour as fast as usual"
      : `takes colour ${percent(rate)} ${rate > 1 ? "faster" : "slower"} than usual`;
  const amount =
    uptake === undefined || percent(uptake) === "0 %"
      ? "and as much of it"
      : `and ${percent(uptake)} ${uptake > 1 ? "more" : "less"} of it`;
  return `This head ${speed}, ${amount}.`;
}
