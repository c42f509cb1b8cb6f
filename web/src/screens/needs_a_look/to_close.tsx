// What only the desk sees: a clock that was started against the safety rules, a row of its records
// that cannot be read, what a phone wrote and the desk refused. A named person closes it and says why.

import type { Matter } from "../../courier/matters";
import { useTyped } from "../../device/typed";
import { date_words } from "../../device/when";
import { counted } from "../../parts/counted";
import { Signed } from "../../parts/signed";
import { ROLES } from "../../parts/who/roles";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import type { Writing } from "../../records/shapes";
import { together } from "../../records/write";
import { reader_names, remember_reader, result_words } from "../../salon/alert_tests/alert_tests";
import { starts_of } from "../../salon/service/start";
import { worker_name } from "../../salon/who";

const WHAT: Partial<Record<Matter["why"], string>> = {
  held: "Started against the safety rules",
  unreadable: "Cannot be read",
  refused: "Refused from a phone",
};

interface MatterProps {
  matter: Matter;
}

/** Returns one matter, with what to do about it and the form that closes it. */
export function ToClose({ matter }: MatterProps) {
  const { client_name, at, words, why } = matter;
  const what = WHAT[why] ?? "";
  const heading = [what, client_name].filter(Boolean).join(": ");
  return (
    <article class="stack look" aria-label={heading.replace(":", "")}>
      <h3>{heading}</h3>
      <p>
        {words}{" "}
        <span class="quiet">
          {date_words(at)}, {time_of_day(Date.parse(at))}
        </span>
      </p>
      {why === "held" && <Held matter={matter} />}
      {why === "unreadable" && <Unreadable matter={matter} />}
      {why === "refused" && (
        <p>
          That phone has the entry under Needs a look. Change it there and send it again. Then close
          this.
        </p>
      )}
      <Close matter={matter} />
    </article>
  );
}

function Held({ matter: { findings, service } }: MatterProps) {
  return (
    <>
      <ul class="rows">
        {findings.map(({ rule, message, next }) => (
          <li key={rule} class="row">
            <strong>{message}</strong>
            <span>{next}</span>
          </li>
        ))}
      </ul>
      <p>
        Ask how the client is and what was done. After a reaction, the maker and a doctor come
        first.
      </p>
      {service && (
        <>
          <KnownAtTheStart service={service} />
          <a class="button" href={address_of("service", service)}>
            Open the service
          </a>
        </>
      )}
    </>
  );
}

/** What the phone that started the service knew then, beside what the desk found since. */
function KnownAtTheStart({ service }: { service: string }) {
  const [start] = starts_of(service);
  if (!start) return null;
  const { worker, answers = [], tests = [], decisions = [] } = start;
  const test = tests.at(-1);
  const known = [
    counted(answers.filter(({ value }) => value !== "not_asked").length, "answer"),
    test ? `alert test of ${test.line ?? "a line"}: ${result_words(test.result)}` : "no alert test",
    counted(decisions.length, "decision"),
  ];
  return (
    <p>
      {worker ? `${worker} started it and knew of: ` : "At its start the phone knew of: "}
      {known.join(", ")}. <a href={address_of("record", service)}>Read what was known then</a>.
    </p>
  );
}

function Unreadable({ matter: { stood } }: MatterProps) {
  return (
    <>
      <p>
        Compare the client’s card with what you know, and add what is missing. If this comes again,
        the salon’s disk may be failing. Make a backup on another disk today.
      </p>
      {stood && (
        <details>
          <summary>What the row says</summary>
          <pre class="stood">{stood}</pre>
        </details>
      )}
    </>
  );
}

/** A name, what was seen, and why it may close: without one of them nothing closes. */
function Close({ matter: { id, client, service } }: MatterProps) {
  const [typed, put, forget] = useTyped("closing", id, {
    by: worker_name.peek(),
    role: "",
    saw: "",
    why: "",
  });
  return (
    <Signed
      opens="Close this"
      who="Checked by"
      names={reader_names.value}
      roles={Object.keys(ROLES)}
      reason="Why it may close"
      kept="Kept for good, under this name."
      act="Close it"
      typed={typed}
      onType={put}
      onKeep={(said) => {
        remember_reader(said.by);
        const fields: Writing<"closing"> = { ...said, at: new Date().toISOString() };
        if (client) fields.client = client;
        if (service) fields.service = service;
        void together([{ do: "create", kind: "closing", id, fields }], "Closed.").then(forget);
      }}
    />
  );
}
