// An alert test that was done on paper, written down in under a minute.
import { useState } from "preact/hooks";
import type { SafetyReviewReply } from "../../api/shapes";
import { keep_paper_test } from "../../gate/paper";
import { cards_of, NO_LINE } from "../../gate/plan";
import { Choice } from "../../parts/choice";
import { MomentField } from "../../parts/text/moment";
import type { Entity } from "../../records/shapes";
import { Person } from "./person";

const RESULTS = [
  ["clear", "No reaction"],
  ["itch", "Itch"],
  ["redness", "Redness"],
  ["swelling", "Swelling"],
  ["blister", "Blisters"],
  ["burning", "Burning"],
  ["spread", "It spread"],
  ["other", "Something else"],
] as const;
const OPEN_FOR = new Set(["missing", "other_line", "lapsed"]);

interface PaperProps {
  service: Entity<"service">;
  state: SafetyReviewReply["alert_test"];
}

/** Returns the form while a test is missing for a line that was chosen; nothing else. */
export function FromPaper({ service, state }: PaperProps) {
  const [line, put_line] = useState<string>();
  const [put_on, change_put_on] = useState("");
  const [read, change_read] = useState("");
  const [result, put_result] = useState<string>();
  const [applied_by, put_applied_by] = useState<string>();
  const [used_before, put_used] = useState<string>();
  const [reader, put_reader] = useState("");
  const lines = cards_of(service.id).map((card) => card.line);
  if (!OPEN_FOR.has(state.state) || lines.includes(NO_LINE)) return null;
  const chosen = line ?? (lines.length === 1 ? lines[0] : undefined);
  const whole =
    chosen && put_on && read && result && applied_by && used_before && reader.trim() !== "";
  const keep = () => {
    if (!whole) return;
    const said = { line: chosen, put_on, read, result, applied_by, used_before };
    void keep_paper_test(service, { ...said, reader: reader.trim() });
  };
  return (
    <details>
      <summary>An alert test on paper</summary>
      <div class="stack">
        <Choice
          legend="Line tested"
          options={lines.map((name) => [name, name] as const)}
          value={chosen}
          onChoose={put_line}
        />
        <MomentField label="Put on" value={put_on} onType={change_put_on} />
        <MomentField label="Read" value={read} onType={change_read} />
        <Choice legend="What was seen" options={RESULTS} value={result} onChoose={put_result} />
        <Choice
          legend="Put on by"
          options={[
            ["salon", "the salon"],
            ["client", "the client, at home"],
            ["unknown", "not sure"],
          ]}
          value={applied_by}
          onChoose={put_applied_by}
        />
        <Choice
          legend="Has an earlier colouring relied on it?"
          options={[
            ["no", "no, none"],
            ["yes", "yes, one has"],
            ["unknown", "not known"],
          ]}
          value={used_before}
          onChoose={put_used}
        />
        <Person legend="Read by" value={reader} onChoose={put_reader} />
        <button type="button" class="safety-answer" disabled={!whole} onClick={keep}>
          Keep this test
        </button>
      </div>
    </details>
  );
}
