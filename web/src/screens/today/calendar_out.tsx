// The way to hand the day over to another calendar, which rings while this page is closed.
import { hand_over } from "../../device/hand_over";
import { BEFORE_VISIT_MIN, entries_of } from "../../salon/calendar/day_out";

/** Returns the button for a day ("2026-11-30"); nothing where there is nothing to ring for. */
export function CalendarOut({ day }: { day: string }) {
  const entries = entries_of(day);
  if (entries.length === 0) return null;
  const save = async () => {
    const { calendar_file } = await import("../../salon/calendar/out");
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC";
    const text = calendar_file(entries, zone, Date.now());
    await hand_over(new File([text], `basinside-${day}.ics`, { type: "text/calendar" }));
  };
  return (
    <div class="stack calendar-out">
      <button type="button" aria-describedby="calendar-out-words" onClick={() => void save()}>
        Day to my calendar
      </button>
      <p id="calendar-out-words" class="quiet">
        A file with your clients’ names. Your calendar then rings {BEFORE_VISIT_MIN} minutes before
        a visit, and for each rinse.
      </p>
    </div>
  );
}
