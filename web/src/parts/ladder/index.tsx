// A whole recipe on one screen: pour until the scale shows the figure, then the next.
import type { MixReply } from "../../api/shapes";
import { done_after, next_words, rungs_of } from "./rungs";
import "./style.css";

interface LadderProps {
  reply: MixReply;
  /** Rungs done, the tare included. */
  done: number;
  onDone: (done: number) => void;
  /** The cost in words; it stays behind a tap, out of a client's sight. */
  cost?: string | undefined;
}

/** Returns the ladder; a tap on a rung, or on the button below, ticks or unticks it. */
export function Ladder({ reply, done, onDone, cost }: LadderProps) {
  const rungs = rungs_of(reply);
  return (
    <section class="ladder" aria-label="What to pour, and the scale’s reading">
      <ol class="ladder-rungs">
        {rungs.map(({ figure, unit, name, amount }, at) => (
          <li key={`${at} ${name}`}>
            <button
              type="button"
              class="ladder-rung"
              aria-pressed={at < done}
              aria-current={at === done ? "step" : undefined}
              onClick={() => onDone(done_after(at, done))}
            >
              <span class="ladder-pour">
                <span class="ladder-name">{name}</span>
                <span class="ladder-amount">{at < done ? `${amount}, done` : amount}</span>
              </span>
              <span class="ladder-reading">
                <span class="unseen">the scale shows </span>
                <span class="ladder-figure">{figure}</span>
                <span class="ladder-unit">&nbsp;{unit}</span>
              </span>
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        class="ladder-next"
        disabled={done >= rungs.length}
        onClick={() => onDone(done + 1)}
      >
        {next_words(rungs, done)}
      </button>
      <div class="ladder-words">
        {reply.developer && <p>{reply.developer.words}</p>}
        {reply.rounding && <p>{reply.rounding.words}</p>}
        <p>{reply.use_within.words}</p>
        {cost && (
          <details>
            <summary>What it costs</summary>
            <p>{cost}</p>
          </details>
        )}
      </div>
    </section>
  );
}
