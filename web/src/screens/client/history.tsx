// What happened to the hair before or elsewhere: what decides whether something may go on it.

import { at_now, day_words } from "../../device/when";
import type { Entity } from "../../records/shapes";
import { create } from "../../records/write";

const HAPPENED = [
  "coloured at home",
  "lightened elsewhere",
  "box dye, not known which",
  "henna or plant colour",
  "metallic or progressive colour",
  "relaxed or straightened",
  "permed",
  "keratin or smoothing",
] as const;

interface HistoryProps {
  client: string;
  entries: readonly Entity<"history_entry">[];
}

/** Returns the history and the buttons that add to it. */
export function History({ client, entries }: HistoryProps) {
  return (
    <div class="stack">
      <h3>The hair’s history</h3>
      {entries.length === 0 && <p class="quiet">Nothing is written down. Ask before you mix.</p>}
      <ul>
        {entries.map(({ id, what, at, created_at }) => (
          <li key={id}>
            {what}, noted {day_words(at ?? created_at)}
          </li>
        ))}
      </ul>
      <details>
        <summary>Add to the history</summary>
        <div class="history-words">
          {HAPPENED.map((what) => (
            <button
              key={what}
              type="button"
              onClick={() => void create("history_entry", { client, what, at: at_now() })}
            >
              {what}
            </button>
          ))}
        </div>
      </details>
    </div>
  );
}
