// A day from a calendar file or a table: it shows what it understood before it takes anything.
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { put_away, unpacked, waiting_file } from "../../device/shared";
import { day_of, days_on, instant_on } from "../../device/when";
import { Choice } from "../../parts/choice";
import { FileButton } from "../../parts/file";
import { MainStep } from "../../parts/steps";
import { records_ready } from "../../records/read";
import { NotKept } from "../../records/write";
import { BadCalendar, type LeftOut } from "../../salon/calendar/days";
import { read_days } from "../../salon/calendar/read";
import { is_wish, MOST_AT_ONCE, type Proposed, take_in } from "../../salon/calendar/take";
import { erased, forget_file, reading, said, say, show_file, show_file_again } from "./file_read";
import { FileRow, is_asked, is_settled } from "./file_row";

const SPANS = [
  [7, "a week"],
  [31, "a month"],
  [366, "a year"],
] as const;
const MOST_LEFT_OUT = 20;
const MOST_ROWS = 40;

const fault = signal("");
const span_days = signal<number>(SPANS[0][0]);
const rows_shown = signal(MOST_ROWS);

interface FromFileProps {
  /** The day that is shown: its appointments are ticked at first. */
  day: string;
  /** Called once it is over. */
  onDone: () => void;
}

/** Returns the file button, then its appointments. */
export function FromFile({ day, onDone }: FromFileProps) {
  useEffect(() => {
    if (records_ready.value) show_file_again();
  }, [records_ready.value]);
  const shared = waiting_file("day");
  const read_shared = async () => {
    // Kept as it was read, then let go: the two are written down together.
    if (shared && (await read(unpacked(shared), day))) put_away(shared);
  };
  useEffect(() => {
    // A file that is being corrected stays until somebody says otherwise.
    if (records_ready.value && !reading.peek()) void read_shared();
  }, [records_ready.value, shared?.form]);
  const done = () => {
    if (shared) put_away(shared);
    forget_file();
    fault.value = "";
    onDone();
  };
  const now = reading.value;
  return (
    <div class="stack from-file">
      <p>
        A calendar file (.ics), or a table (.csv) with a column of names and one of times. Nothing
        is kept before you take it.
      </p>
      <FileButton
        label="Choose the file"
        accept=".ics,.csv,.txt,text/calendar,text/csv"
        onFile={async (file) => void (await read(file, day))}
      />
      {shared && reading.value && (
        <button type="button" onClick={() => void read_shared()}>
          {`Read ${shared.name || "the shared file"} instead`}
        </button>
      )}
      {erased.value && (
        <p role="status">
          A person’s records were erased, so this file went too. Choose it again if you need it.
        </p>
      )}
      {fault.value && (
        <p role="alert">
          <strong>{fault.value}</strong>
        </p>
      )}
      {now && <Preview {...now} day={day} />}
      <button type="button" onClick={done}>
        Not now
      </button>
    </div>
  );
}

/** Reads the file from today on, or from an earlier day that is shown; returns whether it could. */
async function read(file: File, day: string): Promise<boolean> {
  forget_file();
  fault.value = "";
  rows_shown.value = MOST_ROWS;
  try {
    const today = day_of(Date.now());
    const first = day < today ? day : today;
    const last = days_on(first > day ? first : day, span_days.value);
    const span = { from_ms: instant_on(first, 0), until_ms: instant_on(last, 0) };
    show_file(
      file,
      await read_days(file, span),
      ({ at_ms, arrival }) => (arrival === "new" && day_of(at_ms) === day) || arrival === "moved",
    );
    return true;
  } catch (why) {
    fault.value =
      why instanceof BadCalendar ? why.message : "Save the file again, or type the day.";
    return false;
  }
}

/** What is ticked, and what of it somebody has still to say. */
function chosen_of(rows: readonly Proposed[]) {
  const { ticked, whose } = said.value;
  const wanted = rows.filter((row) => ticked[row.key]);
  const waiting = wanted.filter(
    (row) => !row.called.trim() || (is_asked(row) && whose[row.key] === undefined),
  );
  const no_wish = wanted.filter((row) => !waiting.includes(row) && !is_wish(row.wish));
  return { wanted, waiting, no_wish, too_many: wanted.length > MOST_AT_ONCE };
}

interface StepProps {
  onDone: () => void;
  /** The step while no file is read. */
  otherwise: JSX.Element;
}

/** Returns the step at the thumb: it takes what is ticked. */
export function FromFileStep({ onDone, otherwise }: StepProps) {
  const now = reading.value;
  if (!now) return otherwise;
  const { wanted, waiting, no_wish, too_many } = chosen_of(now.rows);
  const ready = wanted.length > 0 && waiting.length + no_wish.length === 0 && !too_many;
  async function take(): Promise<void> {
    try {
      await take_in(wanted.map((from) => ({ from, client: client_of(from) })));
      forget_file();
      onDone();
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      fault.value = why.message;
    }
  }
  return (
    <MainStep
      words={`Take ${wanted.length - waiting.length}`}
      onTap={ready ? () => void take() : undefined}
    />
  );
}

type PreviewProps = NonNullable<typeof reading.value> & { day: string };

function Preview({ file, rows, left_out, outside, day }: PreviewProps) {
  const { waiting, no_wish, too_many } = chosen_of(rows);
  return (
    <>
      {file && (
        <Choice
          legend="Days ahead"
          options={SPANS}
          value={SPANS.find(([days]) => days === span_days.value)?.[0]}
          onChoose={(days) => {
            span_days.value = days;
            void read(file, day);
          }}
        />
      )}
      <p role="status">{count_words(rows.length, left_out.length, outside)}</p>
      {left_out.length > 0 && <Skipped left_out={left_out} />}
      {rows.length > 1 && <TickAll rows={rows} />}
      <ul class="rows">
        {rows.slice(0, rows_shown.value).map((row) => (
          <li key={row.key}>
            <FileRow row={row} />
          </li>
        ))}
      </ul>
      {rows.length > rows_shown.value && (
        <button
          type="button"
          onClick={() => {
            rows_shown.value += MOST_ROWS;
          }}
        >
          Show {Math.min(MOST_ROWS, rows.length - rows_shown.value)} more of {rows.length}
        </button>
      )}
      {waiting.length > 0 && (
        <p role="status">Say who is meant: {waiting.map((row) => row.called).join(", ")}.</p>
      )}
      {no_wish.length > 0 && (
        <p role="status">Correct the wish of {no_wish.map((row) => row.called).join(", ")}.</p>
      )}
      {too_many && (
        <p role="status">
          {MOST_AT_ONCE} at once is the most. Take fewer, then choose the file again for the rest.
        </p>
      )}
    </>
  );
}

function count_words(rows: number, left_out: number, outside: number): string {
  const not = left_out > 0 ? `, ${left_out} not` : "";
  const others = outside > 0 ? ` ${outside} on other days.` : "";
  if (rows === 0)
    return `No appointment of these days was found${not && `, ${left_out} lines not understood`}.${others}`;
  return `${rows} understood${not}.${others}`;
}

/** What is not taken, before the rows: a line that was not read may be somebody who comes. */
function Skipped({ left_out }: { left_out: readonly LeftOut[] }) {
  return (
    <div>
      <h3>Skipped</h3>
      <ul>
        {left_out.slice(0, MOST_LEFT_OUT).map(({ line, words }) => (
          <li key={`${line} ${words}`}>
            Line {line}: {words}.
          </li>
        ))}
      </ul>
      {left_out.length > MOST_LEFT_OUT && <p>And {left_out.length - MOST_LEFT_OUT} more.</p>}
    </div>
  );
}

/** One tap for a whole file; those that are here already stay as they are. */
function TickAll({ rows }: { rows: readonly Proposed[] }) {
  const open = rows.filter((row) => !is_settled(row));
  const all_on = open.every(({ key }) => said.value.ticked[key]);
  if (open.length === 0) return null;
  return (
    <button
      type="button"
      onClick={() => {
        say({ ticked: Object.fromEntries(open.map(({ key }) => [key, !all_on])) });
      }}
    >
      {all_on ? "Tick none" : `Tick all ${open.length}`}
    </button>
  );
}

function client_of({ key, match, clients }: Proposed): string | undefined {
  const meant = said.value.whose[key];
  if (meant !== undefined) return meant || undefined;
  return match === "exact" && clients.length === 1 ? clients[0]?.id : undefined;
}
