// The day that is shown, with the ways to the days beside it, to today, and to any other.
import { useEffect, useRef } from "preact/hooks";
import { day_in_words, day_words, days_on, is_day } from "../../device/when";
import { address_of, go } from "../../place";
import { listed_on, services_on } from "../../salon/service/day";
import { today } from "./today";

const WEEK = [0, 1, 2, 3, 4, 5, 6];

/** Returns the heading between its arrows; `day` is the one shown, "YYYY-MM-DD". */
export function DayHead({ day }: { day: string }) {
  // As many as the list under it shows: after midnight the evening's are on it.
  const of_day = day === today.value ? listed_on(day, Date.now()) : services_on(day);
  const count = of_day.length;
  const head = useRef<HTMLDivElement>(null);
  // Another day is looked at from its top, wherever on the page it was chosen.
  useEffect(() => head.current?.scrollIntoView({ block: "nearest" }), [day]);
  return (
    <>
      <div ref={head} class="day-head">
        <a class="button" href={address_of_day(days_on(day, -1))} aria-label="The day before">
          ‹
        </a>
        <h2 id="today-heading">
          {day_in_words(day, today.value)}
          <span class="day-count">
            {count > 0 ? `${count} ${count === 1 ? "visit" : "visits"}` : ""}
          </span>
        </h2>
        <a class="button" href={address_of_day(days_on(day, 1))} aria-label="The day after">
          ›
        </a>
      </div>
      {day !== today.value && (
        <a class="button day-today" href={address_of("today")}>
          Back to today
        </a>
      )}
    </>
  );
}

/** Returns the way to any day: the week around the one shown, and a field for the rest. */
export function OtherDays({ day }: { day: string }) {
  const first = days_on(day, -((new Date(`${day}T12:00:00`).getDay() + 6) % 7));
  return (
    <details class="other-days">
      <summary>Another day</summary>
      <div class="stack">
        <ul class="week">
          {WEEK.map((at) => days_on(first, at)).map((one) => (
            <li key={one}>
              <a
                class="button"
                href={address_of_day(one)}
                aria-current={one === day ? "date" : undefined}
              >
                {day_words(`${one}T12:00:00`)}
                <span class="quiet">{services_on(one).length || "none"}</span>
              </a>
            </li>
          ))}
        </ul>
        <label class="text-field">
          <span>Day</span>
          <input
            type="date"
            value={day}
            onChange={({ currentTarget: { value } }) => {
              if (is_day(value)) go("today", value === today.value ? "" : value);
            }}
          />
        </label>
      </div>
    </details>
  );
}

/** Returns the address of a day; today's own names no day, so that it moves at midnight. */
export function address_of_day(day: string): string {
  return address_of("today", day === today.value ? "" : day);
}
