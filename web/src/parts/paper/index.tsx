// What a paper says of an alert test, entered in under a minute.
import { Choice } from "../choice";
import { type DayAndHour, DayAndHourField } from "../text/day_and_hour";
import { Who } from "../who";

const NOT_CHOSEN: DayAndHour = { day: "", hour: "" };
const BY = [
  ["salon", "the salon"],
  ["client", "the client, at home"],
  ["unknown", "not sure"],
] as const;
const RELIED_ON = [
  ["no", "no, none"],
  ["yes", "yes, one has"],
  ["unknown", "not known"],
] as const;

/** What is entered so far. */
interface PaperEntry {
  put_on: DayAndHour;
  read: DayAndHour;
  result: string;
  applied_by: string;
  used_before: string;
  /** Null until somebody is named; empty while a name is typed. */
  reader: string | null;
}

export const NO_PAPER: PaperEntry = {
  put_on: NOT_CHOSEN,
  read: NOT_CHOSEN,
  result: "",
  applied_by: "",
  used_before: "",
  reader: null,
};

interface PaperTestProps<Result extends string> {
  entered: PaperEntry;
  onEnter: (entered: PaperEntry) => void;
  /** What a spot can show, with the words for it. */
  results: readonly (readonly [Result, string])[];
  names: readonly string[];
  /** The last possible day: today. */
  today: string;
  /** Whether its two moments are possible, and a note to each. */
  look_at: (moments: { put_on: DayAndHour; read: DayAndHour }) => {
    can_be: boolean;
    put_on?: string;
    read?: string;
  };
  onKeep: (said: {
    put_on: DayAndHour;
    read: DayAndHour;
    result: Result;
    applied_by: string;
    used_before: string;
    reader: string;
  }) => void;
}

/** Two answers that are often both so. */
const USUAL = { applied_by: "salon", used_before: "no" } as const;

/** How many days ago a test was usually put on. */
const PUT_ON = [
  ["2 days ago", 2],
  ["3 days ago", 3],
  ["a week ago", 7],
] as const;

/** Both days of a usual test at once; read this late, it was on for 48 hours at any hour. */
const BOTH_DAYS = [
  ["3 days ago, read today", 3],
  ["a week ago, read 3 days later", 7],
] as const;
const READ_AFTER_DAYS = 3;

/** Returns the day so many days after a day; both as "YYYY-MM-DD". */
function days_after(day: string, days: number): string {
  const at = new Date(`${day}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

/** Returns the usual days of a test, both at once: words, and what they enter. */
export function both_days(today: string): (readonly [string, Partial<PaperEntry>])[] {
  return BOTH_DAYS.map(([words, on]) => [
    words,
    {
      put_on: { day: days_after(today, -on), hour: "" },
      read: { day: days_after(today, READ_AFTER_DAYS - on), hour: "" },
    },
  ]);
}

/** Returns the days a test was usually read on, none of them after today. */
function read_days(put_on: string, today: string): (readonly [string, string])[] {
  if (!put_on) return [["today", today]];
  const usual = [
    ["2 days later", days_after(put_on, 2)],
    ["3 days later", days_after(put_on, 3)],
  ] as const;
  return usual.filter(([, day]) => day <= today);
}

/** Returns the form; it is kept once all of it is said and its days can be. */
export function PaperTestForm<Result extends string>({
  entered,
  onEnter,
  results,
  names,
  today,
  look_at,
  onKeep,
}: PaperTestProps<Result>) {
  const { put_on, read, applied_by, used_before } = entered;
  const result = results.find(([one]) => one === entered.result)?.[0];
  const reader = entered.reader ?? names[0] ?? "";
  const enter = (part: Partial<PaperEntry>) => onEnter({ ...entered, ...part });
  const looked = look_at({ put_on, read });
  const said = put_on.day && read.day && result && applied_by && used_before && reader.trim();
  const keep = () => {
    if (!result || !applied_by || !used_before) return;
    onKeep({ put_on, read, result, applied_by, used_before, reader: reader.trim() });
  };
  const is_entered = (part: Partial<PaperEntry>) =>
    JSON.stringify({ ...entered, ...part }) === JSON.stringify(entered);
  return (
    <>
      <Shortcuts legend="Both days at once" ways={both_days(today)} {...{ is_entered, enter }} />
      <DayAndHourField
        label="Put on"
        usual={PUT_ON.map(([words, days]) => [words, days_after(today, -days)])}
        value={put_on}
        last={today}
        onType={(put_on) => enter({ put_on })}
        fault={put_on.day ? looked.put_on : undefined}
      />
      <DayAndHourField
        label="Read"
        usual={read_days(put_on.day, today)}
        value={read}
        last={today}
        onType={(read) => enter({ read })}
        fault={put_on.day && read.day ? looked.read : undefined}
      />
      <p class="quiet">Without hours it counts as put on late and read early.</p>
      <Choice
        legend="What it showed"
        options={results}
        value={result}
        onChoose={(result) => enter({ result })}
      />
      <Shortcuts
        legend="Both at once"
        ways={[["salon put it on, no colouring relied on it", USUAL]]}
        {...{ is_entered, enter }}
      />
      <Choice
        legend="Put on by"
        options={BY}
        value={applied_by || undefined}
        onChoose={(applied_by) => enter({ applied_by })}
      />
      <Choice
        legend="Has an earlier colouring relied on it?"
        options={RELIED_ON}
        value={used_before || undefined}
        onChoose={(used_before) => enter({ used_before })}
      />
      <Who legend="Read by" names={names} value={reader} onName={(reader) => enter({ reader })} />
      <button type="button" class="main-action" disabled={!said || !looked.can_be} onClick={keep}>
        {said ? "Keep this test" : "Days, result and names"}
      </button>
    </>
  );
}

interface ShortcutsProps {
  legend: string;
  /** Words, and what they enter in the fields below. */
  ways: readonly (readonly [words: string, enters: Partial<PaperEntry>])[];
  is_entered: (part: Partial<PaperEntry>) => boolean;
  enter: (part: Partial<PaperEntry>) => void;
}

/** Returns buttons that fill several fields with one tap; the fields show it and stay open. */
function Shortcuts({ legend, ways, is_entered, enter }: ShortcutsProps) {
  return (
    <fieldset class="day-and-hour">
      <legend>{legend}</legend>
      <div class="day-usual">
        {ways.map(([words, enters]) => (
          <button
            key={words}
            type="button"
            aria-pressed={is_entered(enters)}
            onClick={() => enter(enters)}
          >
            {words}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
