// One alert test: how long it waits, what a spot can show, what this one did, and who read it.

import { useEffect, useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { Absent } from "../../parts/absent";
import { Choice } from "../../parts/choice";
import { MainStep } from "../../parts/steps";
import { Who } from "../../parts/who";
import { address_of } from "../../place";
import { one, records_ready } from "../../records/read";
import {
  type AlertTest,
  applied_ms,
  due_ms,
  moment_words,
  RESULTS,
  type Result,
  read_as,
  reader_names,
  stage_of,
  test_words,
} from "../../salon/alert_tests/alert_tests";
import { open_visit } from "../../salon/service/day";
import { hand_over_reminder } from "./reminder";
import { SkinExamples } from "./skin";
import "./style.css";

/** Returns the page of one test. */
export function AlertTestPage({ id }: { id: string }) {
  const test = one("alert_test", id).value;
  const now_ms = useMinutes();
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!test) return <Absent what="test" href={address_of("tests")} way="Go to the tests" />;
  const stage = stage_of(test, now_ms);
  const client = one("client", test.client ?? "").value;
  return (
    <section class="stack alert-test" aria-labelledby="test-heading">
      <h2 id="test-heading">
        <a href={address_of("client", test.client ?? "")}>{client?.name || "no name"}</a>,{" "}
        {test.line}
      </h2>
      <p class="test-standing" role="status">
        {test_words(test, now_ms)}
      </p>
      <p class="quiet">
        Put on {moment_words(applied_ms(test))}
        {test.site ? `, ${test.site}` : ""}
        {test.from_paper ? ", from paper" : ""}.
      </p>
      {stage === "waits" && <Waits test={test} client={client?.name ?? ""} now_ms={now_ms} />}
      {(stage === "waits" || stage === "to_read") && (
        <ReadSkin test={test} early={stage === "waits"} />
      )}
      {stage === "clear" && <Clear />}
      {stage === "clear" && <LeadsOn client={test.client ?? ""} />}
      {stage === "reacted" && <Reacted client={test.client ?? ""} />}
    </section>
  );
}

function Waits({ test, client, now_ms }: { test: AlertTest; client: string; now_ms: number }) {
  const left_min = Math.ceil((due_ms(test) - now_ms) / 60_000);
  return (
    <div class="stack">
      <p>
        {Math.floor(left_min / 60)}&nbsp;h {left_min % 60}&nbsp;min to go. Keep the spot dry and do
        not rub it.
      </p>
      <button type="button" onClick={() => void hand_over_reminder(test, client)}>
        Reminder for the phone’s calendar
      </button>
      <p class="quiet">A closed page cannot ring. Put the reminder in the phone’s own calendar.</p>
    </div>
  );
}

/** Returns the step that keeps the reading, once the spot may be read. */
export function AlertTestStep({ id }: { id: string }) {
  const test = one("alert_test", id).value;
  const now_ms = useMinutes();
  if (!test || stage_of(test, now_ms) !== "to_read") return null;
  return <KeepReading test={test} />;
}

function KeepReading({ test }: { test: AlertTest }) {
  const { ready, keep } = useReading(test, false);
  return (
    <MainStep
      words={ready ? "Keep the reading" : "What it shows, and the reader"}
      onTap={ready ? keep : undefined}
    />
  );
}

/** What is entered of a reading; early only a reaction can be, since a clear spot may still react. */
function useReading(test: AlertTest, early: boolean) {
  const [typed, put, forget] = useTyped<{ result: Result | ""; by: string }>("read", test.id, {
    result: "",
    by: reader_names.value[0] ?? "",
  });
  const results = early ? RESULTS.filter(([one]) => one !== "clear") : RESULTS;
  const result = results.find(([one]) => one === typed.result)?.[0];
  const by = typed.by.trim();
  const keep = () => {
    if (result) void read_as(test, result, by).then(forget);
  };
  return { typed, put, results, result, ready: Boolean(result && by), keep };
}

/** The reading. */
function ReadSkin({ test, early }: { test: AlertTest; early: boolean }) {
  const { typed, put, results, result, ready, keep } = useReading(test, early);
  return (
    <div class="stack">
      <h3>{early ? "Did it react already?" : "Look, touch, ask"}</h3>
      <SkinExamples />
      <Choice
        legend="What it shows"
        options={results}
        value={result}
        onChoose={(one) => put({ ...typed, result: one })}
        note={
          early
            ? `You can read it from ${moment_words(due_ms(test))}.`
            : "If in doubt, it is a reaction. Ask about itch and burning: they do not show."
        }
      />
      <Who
        legend="Read by"
        names={reader_names.value}
        value={typed.by}
        onName={(name) => put({ ...typed, by: name })}
      />
      {early && (
        <button type="button" class="main-action" disabled={!ready} onClick={keep}>
          {ready ? "Keep the reading" : "What it shows, and the reader"}
        </button>
      )}
    </div>
  );
}

function Clear() {
  return (
    <div class="stack">
      <p>
        It lowers the risk but does not rule a reaction out. Watch the client, and keep Help in
        reach.
      </p>
      <p class="quiet">
        Source: SCCS/1607/19 on false negatives. The test holds for one service, or for your
        insurer’s months.
      </p>
    </div>
  );
}

/** What comes after a clear spot: the visit it is for, or the way to plan one. */
function LeadsOn({ client }: { client: string }) {
  const visit = open_visit(client);
  if (!visit) {
    return (
      <a class="button" href={address_of("client", client)}>
        Plan the visit
      </a>
    );
  }
  return (
    <a class="button main-action" href={address_of("service", visit.id)}>
      Go to the visit, {moment_words(Date.parse(visit.planned_at ?? ""))}
    </a>
  );
}

function Reacted({ client }: { client: string }) {
  return (
    <div class="stack test-reacted">
      <p>
        <strong>Do not colour with this line.</strong> Do not try another line here. Wash the spot.
        Next comes a doctor or a specialist’s patch test.
      </p>
      <a class="button" href={address_of("reaction", client)}>
        Record the reaction
      </a>
    </div>
  );
}

/** Returns the time, moved on each half minute. */
function useMinutes(): number {
  const [now_ms, put] = useState(Date.now());
  useEffect(() => {
    const beat = setInterval(() => put(Date.now()), 30_000);
    return () => clearInterval(beat);
  }, []);
  return now_ms;
}
