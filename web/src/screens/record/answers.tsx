// What was asked, found and decided before a visit began, as it stood then.

import type { FrozenAnswer, FrozenDecision, FrozenTest } from "../../records/shapes";
import { result_words } from "../../salon/alert_tests/alert_tests";
import { MERGED_NAMES, type Start } from "../../salon/service/start";
import { Row } from "./row";
import { plain, when } from "./words";

const NAMES: Record<string, string> = Object.fromEntries(MERGED_NAMES);

/** Returns an answer's name: as it is called on paper, else as it was asked. */
export function name_of({ fact, asked }: FrozenAnswer): string {
  return NAMES[fact] ?? asked ?? plain(fact);
}

/** Returns the answers, each with when it was given and to whom. */
export function AnswerRows({ answers }: { answers: readonly FrozenAnswer[] }) {
  if (answers.length === 0) return <p>None recorded.</p>;
  return (
    <dl class="record-rows">
      {answers.map((answer) => (
        <Row
          key={answer.fact}
          name={name_of(answer)}
          value={answer.words ?? plain(answer.value)}
          beside={[when(answer.at), answer.by].filter(Boolean).join(", ")}
        />
      ))}
    </dl>
  );
}

/** Returns the alert tests as they stood. */
export function TestRows({ tests }: { tests: readonly FrozenTest[] }) {
  if (tests.length === 0) return <p>None recorded.</p>;
  return (
    <dl class="record-rows">
      {tests.map((test) => (
        <Row
          key={`${test.line} ${test.applied_at}`}
          name={test.line ?? "no line named"}
          value={result_words(test.result)}
          beside={[
            `put on ${when(test.applied_at) || "at a time not recorded"}`,
            test.site,
            test.read_at && `read ${when(test.read_at)}`,
            test.read_by && `by ${test.read_by}`,
            test.from_paper && "from paper",
          ]
            .filter(Boolean)
            .join(", ")}
        />
      ))}
    </dl>
  );
}

/** Returns the decisions. */
export function DecisionRows({ decisions }: { decisions: readonly FrozenDecision[] }) {
  if (decisions.length === 0) return <p>None recorded.</p>;
  return (
    <ul>
      {decisions.map(({ rule, basis, saw, why, by, role, at }) => (
        <li key={`${rule} ${at}`}>
          {plain(rule)}
          {basis ? ` (${basis})` : ""}: saw {saw}; goes on because {why}. {by}
          {role ? `, ${plain(role)}` : ""}, {when(at)}
        </li>
      ))}
    </ul>
  );
}

/** Returns the answers that a later start of the same visit gave otherwise than the first. */
export function changed_answers(first: Start, later: Start): FrozenAnswer[] {
  const before = new Map((first.answers ?? []).map((answer) => [answer.fact, answer]));
  return (later.answers ?? []).filter(
    ({ fact, value, at }) =>
      JSON.stringify([before.get(fact)?.value, before.get(fact)?.at]) !==
      JSON.stringify([value, at]),
  );
}
