// The day: who comes when, and how far each service is. The start of everything.
import { computed, effect, signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { country_known } from "../../device/settings";
import { ANYBODY, is_typed } from "../../device/typed";
import { days_on, is_day } from "../../device/when";
import { window_forgets } from "../../offline/storage";
import { in_demo } from "../../outbox/world";
import { later } from "../../parts/later";
import { MainStep } from "../../parts/steps";
import { address_of, go, go_instead } from "../../place";
import { all, is_paired, records_ready } from "../../records/read";
import { day_acts } from "../../records/write";
import { services_on, still_on } from "../../salon/service/day";
import { asks_once } from "../../salon/who";
import { DayHead, OtherDays } from "./day_head";
import { Home } from "./home";
import { Row } from "./row";
import "./style.css";
import { useToday } from "./today";

const SendingLine = later(() => import("./sending").then((part) => part.SendingLine));

const TestsLine = later<object>(() => import("./alert_tests_line").then((part) => part.TestsLine), {
  quiet: true,
});

const WhoOnce = later<object>(() => import("./who_once").then((part) => part.WhoOnce), {
  quiet: true,
});

const DayActs = later<object>(() => import("./acts").then((part) => part.DayActs), { quiet: true });

const NeverBegun = later<object>(() => import("./never_begun").then((part) => part.NeverBegun), {
  quiet: true,
});

/** Every place waits for what is loaded here, so the form comes when it is opened. */
const NewService = later<{ day: string; onDone: () => void }>(() =>
  import("./new").then((part) => part.NewService),
);
const NewServiceStep = later<{ day: string; onDone: () => void }>(
  () => import("./new").then((part) => part.NewServiceStep),
  { quiet: true },
);

const HeldAhead = later<{ day: string }>(() => import("./ahead").then((part) => part.HeldAhead), {
  quiet: true,
});
const WatchHeld = later<{ day: string }>(
  () => import("./watch_held").then((part) => part.WatchHeld),
  { after: true },
);
const CalendarOut = later<{ day: string }>(
  () => import("./calendar_out").then((part) => part.CalendarOut),
  { quiet: true },
);

const SignalLine = later<object>(() => import("./signal_line").then((part) => part.SignalLine), {
  after: true,
});

const SharedLine = later<{ onDay: () => void }>(
  () => import("./shared_line").then((part) => part.SharedLine),
  { after: true },
);

/** The address that opens the form: "#/today/new", as a shortcut of the installed app has it. */
const NEW = "new";
/** One form is open at a time: the bar has one step, and it is that form's. */
const open_form = signal<"none" | "new service" | "day from a file">("none");
const adding = computed(() => open_form.value === "new service");
const from_file = computed(() => open_form.value === "day from a file");
/** A half-filled form is open again after a reload, and so is a file that was not taken. */
effect(() => {
  const [adds, takes] = [is_typed("new_service", ""), is_typed("day_file", ANYBODY)];
  if (open_form.peek() === "none" && adds) add();
  else if (open_form.peek() === "none" && takes) open_file();
});
const FromFile = later<{ day: string; onDone: () => void }>(() =>
  import("./from_file").then((screen) => screen.FromFile),
);

const FromFileStep = later<{ onDone: () => void; otherwise: JSX.Element }>(
  () => import("./from_file").then((screen) => screen.FromFileStep),
  { quiet: true },
);

/** Whether it is known who is a client; where the browser keeps nothing, nobody is. */
const is_read = computed(() => records_ready.value || window_forgets.value);

/** Whether today is the opening screen: nobody is a client yet, and nothing is being entered. */
const is_opening = computed(
  () =>
    is_read.value &&
    all("client").value.length === 0 &&
    all("service").value.length === 0 &&
    !is_paired.value &&
    !adding.value &&
    !from_file.value,
);

/** Whether the place asks for the country itself, or will know in a moment whether it has to. */
export function asks_for_country(id: string): boolean {
  return !is_day(id) && (is_opening.value || !is_read.value);
}

/** Returns a day's services, or how to add the first; `id` is the day, and empty for today. */
export function Today({ id }: { id: string }) {
  const today = useToday();
  const day = is_day(id) ? id : today;
  useEffect(() => {
    if (id !== NEW) return;
    add();
    go_instead("today");
  }, [id]);
  const services = services_on(day);
  const over_midnight = day === today ? still_on(today, Date.now()) : [];
  const none = services.length + over_midnight.length === 0;
  const home = day === today && is_opening.value;
  if (home && !country_known.value) {
    return (
      <section class="stack today" aria-label="Basinside">
        <Home onNew={add} />
        <SignalLine />
      </section>
    );
  }
  return (
    <section class="stack today" aria-labelledby="today-heading">
      {home && <Home onNew={add} />}
      <DayHead day={day} />
      {adding.value && <NewService day={day} onDone={close} />}
      {!is_read.value && <p class="quiet">Opening your records…</p>}
      {records_ready.value && none && !adding.value && <NoVisits day={day} today={today} />}
      <ul class="day">
        {over_midnight.map((service) => (
          <li key={service.id}>
            <Row service={service} since />
          </li>
        ))}
        {services.map((service) => (
          <li key={service.id}>
            <Row service={service} past={day < today} />
          </li>
        ))}
      </ul>
      {records_ready.value && day >= today && (
        <HeldAhead day={day === today ? days_on(today, 1) : day} />
      )}
      {records_ready.value && day === today && <WatchHeld day={day} />}
      {records_ready.value && <OtherDays key={day} day={day} />}
      {asks_once.value && <WhoOnce />}
      <SharedLine onDay={open_file} />
      {records_ready.value && day === today && <NeverBegun />}
      {records_ready.value && <TestsLine />}
      {from_file.value ? (
        <FromFile day={day} onDone={close} />
      ) : (
        // Real appointments have no place among invented ones, nor the other way round.
        records_ready.value &&
        !in_demo && (
          <button type="button" onClick={open_file}>
            Import a day
          </button>
        )
      )}
      {records_ready.value && day >= today && !in_demo && <CalendarOut day={day} />}
      {services.length > 0 && (
        <a class="button" href={address_of("try")}>
          Try out a mix
        </a>
      )}
      {day_acts.value.length > 0 && <DayActs />}
      {is_paired.value && <SendingLine />}
      <SignalLine />
    </section>
  );
}

function NoVisits({ day, today }: { day: string; today: string }) {
  if (day < today) return <p>No visits on this day.</p>;
  return <p>No visits yet. Add the first.</p>;
}

function add(): void {
  open_form.value = "new service";
}

function close(): void {
  open_form.value = "none";
}

function try_out(): void {
  go("try");
}

function open_file(): void {
  open_form.value = "day from a file";
}

/** Returns the day's first step, or the one that keeps what is being planned or brought in. */
export function TodayStep({ id }: { id: string }) {
  const today = useToday();
  // Nothing is planned under rules that nobody chose.
  if (!country_known.value && !is_opening.value) return null;
  // Until it is known which step leads: one step in another's place would take a tap meant for it.
  if (!is_read.value) return null;
  if (adding.value) return <NewServiceStep day={is_day(id) ? id : today} onDone={close} />;
  const plan = <MainStep words="New service" onTap={add} />;
  // Until there is a client, the page shows what it is for.
  if (is_opening.value && !is_day(id)) return <MainStep words="Work out a mix" onTap={try_out} />;
  return from_file.value ? <FromFileStep onDone={close} otherwise={plan} /> : plan;
}
