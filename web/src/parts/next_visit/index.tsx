// When somebody comes next: a tap plans it some weeks on, and moves it from there.
import { Choice } from "../choice";
import { Stepper } from "../stepper";

const WEEKS = [4, 6, 8, 10] as const;
const MOST_WEEKS = 52;

/** A visit that is planned already. */
interface Planned {
  /** Its day, with the year, and its time. */
  words: string;
  href: string;
  /** Whether it can still be moved: it has not begun. */
  open: boolean;
  /** Weeks from the day they count from; absent where it was moved to no whole number of them. */
  weeks?: number;
}

interface NextVisitProps {
  name: string;
  planned: Planned | undefined;
  onWeeks: (weeks: number) => void;
  onNone: () => void;
}

/** Returns the choice of weeks, and under it the visit that is planned. */
export function NextVisit({ name, planned, onWeeks, onNone }: NextVisitProps) {
  const weeks = planned?.weeks;
  if (planned && !planned.open) return <PlannedVisit planned={planned} />;
  return (
    <div class="stack next-visit">
      <Choice
        legend={`Next visit of ${name}`}
        options={WEEKS.map((some) => [some, `${some} weeks`] as const)}
        value={WEEKS.find((some) => some === weeks)}
        onChoose={onWeeks}
        note={planned ? `Planned for ${planned.words}` : ""}
      />
      {planned && (
        <>
          {weeks !== undefined && (
            <Stepper
              label="Weeks until then"
              words={`${weeks} ${weeks === 1 ? "week" : "weeks"}`}
              less="a week earlier"
              more="a week later"
              onLess={weeks > 1 ? () => onWeeks(weeks - 1) : undefined}
              onMore={weeks < MOST_WEEKS ? () => onWeeks(weeks + 1) : undefined}
            />
          )}
          <PlannedVisit planned={planned} />
          <button type="button" onClick={onNone}>
            No next visit
          </button>
        </>
      )}
    </div>
  );
}

function PlannedVisit({ planned: { href, words } }: { planned: Planned }) {
  return (
    <a class="button" href={href}>
      Next visit: {words}
    </a>
  );
}
