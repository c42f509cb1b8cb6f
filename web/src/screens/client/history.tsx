// What happened to the hair before or elsewhere, which decides whether something may go on it.

import { at_now, date_words } from "../../device/when";
import { address_of } from "../../place";
import type { Entity } from "../../records/shapes";
import { create } from "../../records/write";
import { put_on_here } from "../../salon/own_history";

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
  const here = put_on_here(client);
  return (
    <div class="stack">
      <h3>The hair’s history</h3>
      {entries.length + here.length === 0 && (
        <p class="quiet">Nothing noted yet. Ask before you mix.</p>
      )}
      <ul>
        {here.map(({ zone, service, at, what }) => (
          <li key={zone}>
            {date_words(at)}, here: <a href={address_of("service", service)}>{what}</a>
          </li>
        ))}
        {entries.map(({ id, what, at, created_at }) => (
          <li key={id}>
            {what}, noted {date_words(at ?? created_at)}
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
