// A day from a calendar file or a table: it shows what it understood before it takes anything.
import { signal } from "@preact/signals";
import { day_words, rfc3339 } from "../../device/when";
import { Choice } from "../../parts/choice";
import { FileButton } from "../../parts/file";
import { time_of_day } from "../../parts/words";
import { NotKept } from "../../records/write";
import { BadCalendar, type LeftOut } from "../../salon/calendar/days";
import { read_days } from "../../salon/calendar/read";
import { type Proposed, proposed, take_in } from "../../salon/calendar/take";

const DAYS_AHEAD = 7;
const NEW = "new";
const MOST_LEFT_OUT = 20;

interface FileRead {
  rows: readonly Proposed[];
  left_out: readonly LeftOut[];
}
const reading = signal<FileRead | null>(null);
const fault = signal("");
const ticked = signal<Readonly<Record<string, boolean>>>({});
const whose = signal<Readonly<Record<string, string>>>({});

/** Returns the file button, then its appointments; `onDone` is called once it is over. */
export function FromFile({ onDone }: { onDone: () => void }) {
  const done = () => {
    reading.value = null;
    fault.value = "";
    onDone();
  };
  const now = reading.value;
  return (
    <div class="stack from-file">
      <p>
        A calendar file (.ics), or a table (.csv) with a column of names and one of times. The next{" "}
        {DAYS_AHEAD} days show first. Nothing is kept before you take it.
      </p>
      <FileButton
        label="Choose the file"
        accept=".ics,.csv,.txt,text/calendar,text/csv"
        onFile={read}
      />
      {fault.value && (
        <p role="alert">
          <strong>{fault.value}</strong>
        </p>
      )}
      {now && <Preview {...now} onTaken={done} />}
      <button type="button" onClick={done}>
        Not now
      </button>
    </div>
  );
}

async function read(file: File): Promise<void> {
  reading.value = null;
  fault.value = "";
  try {
    const from = new Date();
    from.setHours(0, 0, 0, 0);
    const until = new Date(from);
    until.setDate(until.getDate() + DAYS_AHEAD);
    const span = { from_ms: from.getTime(), until_ms: until.getTime() };
    const { appointments, left_out } = await read_days(file, span);
    const rows = proposed(appointments);
    const today = rfc3339(span.from_ms).slice(0, 10);
    ticked.value = Object.fromEntries(
      rows.map(({ key, at_ms, arrival }) => [
        key,
        (arrival === "new" && rfc3339(at_ms).startsWith(today)) || arrival === "moved",
      ]),
    );
    whose.value = {};
    reading.value = { rows, left_out };
  } catch (why) {
    fault.value =
      why instanceof BadCalendar ? why.message : "Save the file again, or type the day.";
  }
}

function Preview({ rows, left_out, onTaken }: FileRead & { onTaken: () => void }) {
  const chosen = rows.filter(
    (row) => ticked.value[row.key] && (row.clients.length < 2 || whose.value[row.key]),
  );
  const waiting = rows.some(
    (row) => ticked.value[row.key] && row.clients.length > 1 && !whose.value[row.key],
  );
  async function take(): Promise<void> {
    try {
      await take_in(chosen.map((from) => ({ from, client: client_of(from) })));
      onTaken();
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      fault.value = why.message;
    }
  }
  return (
    <>
      <p role="status">
        {rows.length === 0
          ? `No appointment of the next ${DAYS_AHEAD} days was found in it.`
          : `${rows.length} understood${left_out.length > 0 ? `, ${left_out.length} not` : ""}.`}
      </p>
      <ul class="rows">
        {rows.map((row) => (
          <li key={row.key}>
            <Row row={row} />
          </li>
        ))}
      </ul>
      {left_out.length > 0 && (
        <>
          <h3>Skipped</h3>
          <ul>
            {left_out.slice(0, MOST_LEFT_OUT).map(({ line, words }) => (
              <li key={`${line} ${words}`}>
                Line {line}: {words}.
              </li>
            ))}
          </ul>
          {left_out.length > MOST_LEFT_OUT && <p>And {left_out.length - MOST_LEFT_OUT} more.</p>}
        </>
      )}
      {waiting && <p>Choose the client if several fit.</p>}
      <button type="button" disabled={chosen.length === 0 || waiting} onClick={() => void take()}>
        Take {chosen.length}
      </button>
    </>
  );
}

function Row({ row }: { row: Proposed }) {
  const { key, name, at_ms, line, clients, arrival } = row;
  const settled = arrival === "here" || arrival === "under way";
  return (
    <>
      <label class="from-file-row">
        <input
          type="checkbox"
          disabled={settled}
          checked={ticked.value[key] ?? false}
          onChange={(event) => {
            ticked.value = { ...ticked.value, [key]: event.currentTarget.checked };
          }}
        />
        <span>
          <strong>
            {day_words(rfc3339(at_ms))}, {time_of_day(at_ms)}
          </strong>{" "}
          {name} <span class="quiet">{`${arrival_words(row)} · line ${line}`}</span>
        </span>
      </label>
      {clients.length > 1 && arrival === "new" && (
        <Choice
          legend={`Who is “${name}”`}
          options={[
            ...clients.map(
              ({ id, name: known, phone }, at) =>
                [id, `${at + 1}: ${known ?? "no name"}${phone ? `, ${phone}` : ""}`] as const,
            ),
            [NEW, "a new client"] as const,
          ]}
          value={whose.value[key]}
          onChoose={(client) => {
            whose.value = { ...whose.value, [key]: client };
          }}
        />
      )}
    </>
  );
}

function client_of({ key, clients }: Proposed): string | undefined {
  const said = whose.value[key];
  return said === NEW ? undefined : (said ?? clients[0]?.id);
}

function arrival_words({ arrival, clients, was_ms }: Proposed): string {
  if (arrival === "here") return "here already";
  if (arrival === "moved") return `moved, was ${time_of_day(was_ms ?? 0)}`;
  if (arrival === "under way") return "begun, so its time stays";
  if (arrival === "deleted") return "deleted here before";
  if (clients.length === 0) return "new client";
  return clients.length === 1 ? `client ${clients[0]?.name}` : `${clients.length} clients fit`;
}
