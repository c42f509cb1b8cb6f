// The day: who comes when, and how far each service is. The start of everything.
import { computed, effect, signal } from "@preact/signals";
import { is_typed } from "../../device/typed";
import { day_words, rfc3339 } from "../../device/when";
import { later } from "../../parts/later";
import { MainStep } from "../../parts/steps";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { all, is_paired, records_ready } from "../../records/read";
import { day_acts } from "../../records/write";
import { progress_words } from "../../salon/service/progress";
import { now_ms } from "../../salon/service/running";
import { client_name } from "../../salon/service/services";
import { asks_once } from "../../salon/who";
import { NewService } from "./new";
import "./style.css";

const SendingLine = later(() => import("./sending").then((part) => part.SendingLine));

const TestsLine = later<object>(() => import("./alert_tests_line").then((part) => part.TestsLine), {
  quiet: true,
});

const WhoOnce = later<object>(() => import("./who_once").then((part) => part.WhoOnce), {
  quiet: true,
});

const DayActs = later<object>(() => import("./acts").then((part) => part.DayActs), { quiet: true });

const adding = signal(false);
/** A half-filled form is open again after a reload. */
effect(() => {
  if (is_typed("new_service", "")) adding.value = true;
});
const from_file = signal(false);
const FromFile = later<{ onDone: () => void }>(() =>
  import("./from_file").then((screen) => screen.FromFile),
);

/** The day by this phone's wall clock; moves on at midnight while a clock runs. */
const today = computed(() => rfc3339(now_ms.value).slice(0, 10));

const services_today = computed(() =>
  all("service")
    .value.filter(({ planned_at, state }) => {
      const planned_ms = Date.parse(planned_at ?? "");
      return state !== "cancelled" && rfc3339(planned_ms).startsWith(today.value);
    })
    .sort((a, b) => Date.parse(a.planned_at ?? "") - Date.parse(b.planned_at ?? "")),
);

/** Returns the day's services, or how to add the first. */
export function Today() {
  return (
    <section class="stack today" aria-labelledby="today-heading">
      <h2 id="today-heading">{day_words(rfc3339(now_ms.value))}</h2>
      {adding.value && (
        <NewService
          onDone={() => {
            adding.value = false;
          }}
        />
      )}
      {!records_ready.value && <p class="quiet">Opening your records…</p>}
      {records_ready.value && services_today.value.length === 0 && !adding.value && (
        <p>
          No visits yet. Add the first. <a href={address_of("try")}>Or try out a mix</a> for
          nobody’s hair.
        </p>
      )}
      <ul class="day">
        {services_today.value.map((service) => (
          <li key={service.id}>
            <a class="day-row" href={address_of("service", service.id)}>
              <strong class="day-time">{time_of_day(Date.parse(service.planned_at ?? ""))}</strong>
              <span class="day-name">{client_name(service) || "no name yet"}</span>
              <span class="quiet">{progress_words(service)}</span>
            </a>
          </li>
        ))}
      </ul>
      {asks_once.value && <WhoOnce />}
      {records_ready.value && <TestsLine />}
      {from_file.value ? (
        <FromFile
          onDone={() => {
            from_file.value = false;
          }}
        />
      ) : (
        records_ready.value && (
          <button
            type="button"
            onClick={() => {
              from_file.value = true;
            }}
          >
            Import a day
          </button>
        )
      )}
      {services_today.value.length > 0 && (
        <a class="button" href={address_of("try")}>
          Try out a mix
        </a>
      )}
      {day_acts.value.length > 0 && <DayActs />}
      {is_paired.value && <SendingLine />}
    </section>
  );
}

/** Returns the day's first step. */
export function TodayStep() {
  if (adding.value) return null;
  return (
    <MainStep
      words="New service"
      onTap={() => {
        adding.value = true;
      }}
    />
  );
}
