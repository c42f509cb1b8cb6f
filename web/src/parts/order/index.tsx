// The order of work for the zones of a head: the due step in large words, the rest below.
import type { Mend, ScheduleReply } from "../../api/shapes";
import { due_at, mends_of, rows_of, when_words } from "./rows";
import "./style.css";

interface OrderProps {
  reply: ScheduleReply;
  /** Minutes since the first section went on; absent while it is only planned. */
  now_min?: number | undefined;
  /** The time of day of a minute, once the work has begun. */
  wall?: ((minute: number) => string) | undefined;
  onMend?: ((mend: Mend) => void) | undefined;
}

/** Returns the order of work, and why a zone cannot land in it and what would help. */
export function Order({ reply, now_min, wall, onMend }: OrderProps) {
  const rows = rows_of(reply.steps);
  const due = now_min === undefined ? -1 : due_at(rows, now_min);
  const next = rows[due];
  return (
    <section class="order-of-work" aria-label="Order of work">
      {next && now_min !== undefined && (
        <p class="order-due" aria-live="polite">
          <span>{next.order}</span>
          <strong>{when_words(next, now_min)}</strong>
        </p>
      )}
      {reply.slack_min === null && <Impossible reply={reply} onMend={onMend} />}
      <ol class="order-rows">
        {rows.map((row, at) => (
          <li
            key={`${row.starts_min} ${row.order}`}
            class="order-row"
            aria-current={at === due ? "step" : undefined}
          >
            <span class="order-minute">
              <span class="unseen">Minute </span>
              {row.starts_min}
            </span>
            <span class="order-what">
              <span class="order-words">{row.order}</span>
              <span>{row.note}</span>
            </span>
            {now_min !== undefined && (
              <span class="order-when">
                {when_words(row, now_min)}
                {wall && <span>{wall(row.starts_min)}</span>}
              </span>
            )}
          </li>
        ))}
      </ol>
      {reply.slack_min !== null && (
        <p>
          {reply.total_min} min in all. Every zone lands inside its window
          {reply.slack_min > 0
            ? `, with at least ${reply.slack_min} min to spare.`
            : ", with no minute to spare."}
        </p>
      )}
    </section>
  );
}

function Impossible({ reply, onMend }: Pick<OrderProps, "reply" | "onMend">) {
  const mends = mends_of(reply);
  return (
    <>
      <p class="order-title">These zones cannot all land</p>
      <ul class="order-misses">
        {reply.impossible.map(({ zone, words }) => (
          <li key={zone}>{words}</li>
        ))}
      </ul>
      {mends.length > 0 && <p class="order-title">Any one of these helps</p>}
      <ul class="order-mends">
        {mends.map((mend) => (
          <li key={mend.words}>
            {onMend ? (
              <button type="button" onClick={() => onMend(mend)}>
                {mend.words}
              </button>
            ) : (
              mend.words
            )}
          </li>
        ))}
      </ul>
    </>
  );
}
