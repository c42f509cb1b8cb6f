// An alert test that was done on paper, written down where it is missing.

import { useState } from "preact/hooks";
import type { SafetyReviewReply } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { at_now } from "../../device/when";
import { Choice } from "../../parts/choice";
import { both_days, NO_PAPER, PaperTestForm } from "../../parts/paper";
import type { Entity } from "../../records/shapes";
import { RESULTS, reader_names } from "../../salon/alert_tests/alert_tests";
import { keep_paper_test, look_at } from "../../salon/alert_tests/from_paper";
import { lines_in_bowls } from "../../salon/service/mixed";

const OPEN_FOR = new Set(["missing", "other_line", "lapsed"]);

interface PaperProps {
  service: Entity<"service">;
  state: SafetyReviewReply["alert_test"];
}

/** Returns the form while a chosen line lacks a test; nothing else. */
export function FromPaper({ service, state }: PaperProps) {
  const client = service.client ?? "";
  const [line, put_line, forget_line] = useTyped("paper_line", client, "");
  const [entered, put, forget] = useTyped("paper_test", client, NO_PAPER);
  const [open, put_open] = useState(false);
  const today = at_now().slice(0, 10);
  const lines = lines_in_bowls(service.id);
  if (!OPEN_FOR.has(state.state) || lines.length === 0) return null;
  const chosen = line || (lines.length === 1 ? lines[0] : undefined);
  const untouched = !open && JSON.stringify(entered) === JSON.stringify(NO_PAPER);
  return (
    <>
      <details open={open} onToggle={({ currentTarget }) => put_open(currentTarget.open)}>
        <summary>An alert test on paper</summary>
        <div class="stack">
          <Choice
            legend="Line tested"
            options={lines.map((name) => [name, name] as const)}
            value={chosen}
            onChoose={put_line}
          />
          {chosen && (
            <PaperTestForm
              results={RESULTS}
              entered={entered}
              onEnter={put}
              names={reader_names.value}
              today={today}
              look_at={(moments) => look_at(moments, Date.now())}
              onKeep={async (said) => {
                await keep_paper_test(client, { line: chosen, ...said });
                forget();
                forget_line();
              }}
            />
          )}
        </div>
      </details>
      {untouched && (
        <div class="safety-paper">
          {both_days(today).map(([words, days]) => (
            <button
              key={words}
              type="button"
              onClick={() => {
                put({ ...NO_PAPER, ...days });
                put_open(true);
              }}
            >
              {words}
            </button>
          ))}
        </div>
      )}
    </>
  );
}
