// The page around every place: the top, the scrolling part, and the bar under the thumb.
import type { JSX } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { hear, ringing } from "./alarm";
import { country_known } from "./device/settings";
import { in_demo } from "./outbox/world";
import { Notices } from "./pages/notices";
import { Boundary } from "./parts/boundary";
import { ClockBar } from "./parts/clock/bar";
import { later } from "./parts/later";
import { Ringing } from "./parts/ringing";
import { MainStep } from "./parts/steps";
import { NotKeptBar, UndoBar } from "./parts/undo";
import { address_of, back, go, type PlaceName, place } from "./place";
import { is_paired } from "./records/read";
import { kept_state, last_act, let_act_be, let_unkept_go, redo, undo } from "./records/write";
import { hand_back, handed_over } from "./salon/handed_over";
import { invented } from "./salon/invented";
import { basin_is_open } from "./salon/service/basin";
import { rings_by_service } from "./salon/service/moments";
import { clock_runs, now_ms, running } from "./salon/service/running";
import { ask_who, asks_who, initials, not_now, worker_name } from "./salon/who";
import { Guarded } from "./screens/broken";
import { HelpButton, HelpCard } from "./screens/help";
import { asks_for_country, Today, TodayStep } from "./screens/today";
import { wide } from "./wide";
import "./shell.css";
import "./large.css";
import "./places.css";

/** One place of the page: its scrolling part, and the next step for the thumb. */
interface View {
  Body: (props: { id: string }) => JSX.Element | null;
  Step?: (props: { id: string }) => JSX.Element | null;
  /** A second column on a wide screen, with its own step. */
  Beside?: (props: { id: string }) => JSX.Element | null;
  BesideStep?: (props: { id: string }) => JSX.Element | null;
}

const Sections = later<object>(() => import("./pages/try").then((page) => page.Sections));
const NextStep = later<object>(() => import("./pages/try").then((page) => page.NextStep), {
  quiet: true,
});
const StripBeside = later<object>(() => import("./pages/try").then((page) => page.StripBeside));
const Minutes = later<object>(
  () => import("./screens/strip/minutes").then((screen) => screen.Minutes),
  { quiet: true },
);
const Clients = later<{ id: string }>(() =>
  import("./screens/clients").then((screen) => screen.Clients),
);
const ClientPage = later(() => import("./screens/client").then((screen) => screen.ClientPage));
const ClientStep = later(() => import("./screens/client").then((screen) => screen.ClientStep));
const WholeHistory = later(() =>
  import("./screens/client/whole").then((screen) => screen.WholeHistory),
);
const ShelfScreen = later<{ id: string }>(() =>
  import("./screens/shelf").then((screen) => screen.ShelfScreen),
);
const ShelfStep = later<{ id: string }>(() =>
  import("./screens/shelf").then((screen) => screen.ShelfStep),
);
const SettingsScreen = later(() =>
  import("./screens/settings").then((screen) => screen.SettingsScreen),
);
const LinePage = later(() => import("./screens/line").then((screen) => screen.LinePage));
const SwatchBench = later(() => import("./screens/swatches").then((screen) => screen.SwatchBench));
const Formulas = later<{ id: string }>(() =>
  import("./screens/formulas").then((screen) => screen.Formulas),
);
const FormulaPage = later(() => import("./screens/formula").then((screen) => screen.FormulaPage));
const PairScreen = later<{ id: string }>(() =>
  import("./screens/pair").then((screen) => screen.PairScreen),
);
const NeedsALook = later<{ id: string }>(() =>
  import("./screens/needs_a_look").then((screen) => screen.NeedsALook),
);
const Floor = later<{ id: string }>(() => import("./pages/desk").then((page) => page.DeskFloor));
const DeskBeside = later<{ id: string }>(() =>
  import("./screens/desk").then((screen) => screen.Beside),
);
const DeskNarrow = later<{ id: string }>(() =>
  import("./pages/desk").then((page) => page.DeskNarrow),
);

const AlertTestPage = later(() =>
  import("./screens/alert_test").then((screen) => screen.AlertTestPage),
);
const AlertTestStep = later(() =>
  import("./screens/alert_test").then((screen) => screen.AlertTestStep),
);
const NewTest = later(() => import("./screens/alert_test/new").then((screen) => screen.NewTest));
const NewTestStep = later(() =>
  import("./screens/alert_test/new").then((screen) => screen.NewTestStep),
);
const TestsDue = later<{ id: string }>(() =>
  import("./screens/alert_tests_due").then((screen) => screen.TestsDue),
);
const ReactionPage = later(() => import("./pages/reaction").then((page) => page.ReactionPage));
const RecordPage = later(() => import("./screens/record").then((screen) => screen.RecordPage));

const Shared = later(() => import("./screens/shared").then((screen) => screen.Shared));

const ServiceBody = later(() => import("./pages/service").then((page) => page.ServiceBody));
const ServiceStep = later(() => import("./pages/service").then((page) => page.ServiceStep));
const Country = later<object>(() => import("./screens/country").then((screen) => screen.Country));
const WhoIsWorking = later<object>(() =>
  import("./screens/who").then(
    (screen) => screen.WhoIsWorking,
    (why: unknown) => {
      // A question that cannot be shown must not be in the way.
      not_now();
      throw why;
    },
  ),
);
const HandedOver = later<{ id: string }>(() =>
  import("./pages/handed_over").then(
    (page) => page.HandedOver,
    (why: unknown) => {
      // What cannot be shown must not lock the salon out of its phone.
      hand_back();
      throw why;
    },
  ),
);
const TestsRinging = later<object>(
  () => import("./pages/due_ringing").then((page) => page.TestsRinging),
  { after: true },
);

function plan_one(): void {
  go("today", "new");
}

function try_out(): void {
  go("try");
}

const TODAY: View = { Body: Today, Step: TodayStep };
const TRY: View = { Body: Sections, Step: NextStep, Beside: StripBeside, BesideStep: Minutes };

const VIEWS: Partial<Record<PlaceName, View>> = {
  today: TODAY,
  try: TRY,
  clients: { Body: Clients, Step: () => <MainStep words="New service" onTap={plan_one} /> },
  client: { Body: ClientPage, Step: ClientStep, Beside: WholeHistory },
  formulas: { Body: Formulas, Step: () => <MainStep words="Work out a mix" onTap={try_out} /> },
  formula: { Body: FormulaPage },
  shelf: { Body: ShelfScreen, Step: ShelfStep },
  line: { Body: LinePage },
  swatches: { Body: SwatchBench },
  service: { Body: ServiceBody, Step: ServiceStep },
  // On a wide screen, the floor with the notes beside it.
  desk: { Body: () => (wide.value ? <Floor id="" /> : <DeskNarrow id="" />), Beside: DeskBeside },
  test: { Body: AlertTestPage, Step: AlertTestStep },
  new_test: { Body: NewTest, Step: NewTestStep },
  tests: { Body: TestsDue },
  reaction: { Body: ReactionPage },
  record: { Body: RecordPage },
  pair: { Body: PairScreen },
  look: { Body: NeedsALook },
  shared: { Body: Shared },
  settings: { Body: () => <SettingsScreen onDone={back} /> },
};

/**
 * The main places, in the order of a day, each only once it is there. Drawn are a clock, a person,
 * the bars of three weighed amounts, and tubes on a board.
 */
const MAIN_PLACES = (
  [
    ["today", "Today", "M12 3a9 9 0 1 0 .1 0M12 7v5l4 2"],
    ["clients", "Clients", "M12 4a4 4 0 1 0 .1 0M4 21c0-10 16-10 16 0"],
    ["formulas", "Formulas", "M4 6h16M4 12h11M4 18h6"],
    ["shelf", "Shelf", "M3 20h18M5 20V9h3v11M11 20V5h3v15M17 20v-8h3v8"],
  ] as const
).filter(([name]) => name in VIEWS);

/** The places of which nothing goes by a country's rules: it is asked before the first visit. */
const NEEDS_NO_COUNTRY = new Set<PlaceName>([
  ...(["try", "shelf", "line", "swatches", "formulas", "formula"] as const),
]);

/** Returns the whole page. */
export function Shell() {
  const client_of = handed_over.value;
  return (
    <>
      {(in_demo || invented.value) && <p class="demo-line">Demo day: invented people</p>}
      {client_of ? <HandedOver id={client_of} /> : <Frame />}
      {!client_of && <HelpCard />}
    </>
  );
}

/** Returns the current place, with its top and its bar. */
function Frame() {
  const { name, id } = place.value;
  const view = VIEWS[name] ?? TODAY;
  const { Body, Step, Beside, BesideStep } = view;
  // The scrolling part is not the document, so it takes the focus for the scroll keys.
  const first = useRef<HTMLDivElement>(null);
  // Another day is the same page: the arrow that led there keeps the focus.
  const key = name === "today" ? name : `${name}/${id}`;
  useEffect(() => first.current?.focus(), [key]);
  // A country that was chosen in an earlier version was said; nothing is asked before a wet head.
  const asks_country =
    !country_known.value &&
    !clock_runs.value &&
    !NEEDS_NO_COUNTRY.has(name) &&
    !(name === "today" && asks_for_country(id));
  const asks = asks_country || asks_who.value;
  // The question takes the place of the page, which stays as it was.
  const left_at_px = useRef(0);
  if (!asks) left_at_px.current = first.current?.scrollTop ?? 0;
  useLayoutEffect(() => {
    const left = left_at_px.current;
    if (asks) first.current?.scrollTo(0, 0);
    return asks ? () => first.current?.scrollTo(0, left) : undefined;
  }, [asks]);
  const body = (
    <>
      {asks_country ? <Country /> : asks && <WhoIsWorking />}
      <div class="under-question" hidden={asks}>
        <Guarded key={key} name={name} id={id}>
          <Body id={id} />
        </Guarded>
      </div>
    </>
  );
  const step =
    Step && !asks ? (
      <Boundary key={key}>
        <Step id={id} />
      </Boundary>
    ) : null;
  if (wide.value && Beside) {
    return (
      <div class="frame">
        <Top />
        <main class="columns">
          <div class="column">
            <div ref={first} class="scroll" tabIndex={-1} key={key}>
              {body}
            </div>
            <Bar step={step} />
          </div>
          <div class="column">
            <div class="scroll">
              <Boundary key={key}>
                <Beside id={id} />
              </Boundary>
            </div>
            <div class="bar">
              <Boundary key={key}>{BesideStep && <BesideStep id={id} />}</Boundary>
            </div>
          </div>
        </main>
        <Boundary>
          <Notices />
        </Boundary>
      </div>
    );
  }
  // The basin is one screen: nothing of the frame but the bar stands beside it.
  const basin = name === "service" && basin_is_open(id);
  return (
    <div class={basin ? "frame frame-basin" : "frame"}>
      <div ref={first} class="scroll" tabIndex={-1} key={key}>
        {!basin && <Top />}
        <Boundary>{!basin && <Notices />}</Boundary>
        <main>{body}</main>
      </div>
      <Bar step={step} />
    </div>
  );
}

function Top() {
  const { name } = place.value;
  const inside = MAIN_PLACES.length > 0 && MAIN_PLACES.every(([main]) => main !== name);
  return (
    <header class="top">
      {inside && !wide.value && (
        <a class="button" href={address_of("today")}>
          Today
        </a>
      )}
      <h1>Basinside</h1>
      {wide.value && country_known.value && <Places />}
      {worker_name.value && (
        <button
          type="button"
          class="button top-who"
          aria-label={`Working: ${worker_name.value}. Change`}
          onClick={ask_who}
        >
          <span class="top-who-name">{worker_name.value}</span>
          <span class="top-who-initials">{initials.value}</span>
        </button>
      )}
      {wide.value && is_paired.value && name !== "desk" && (
        <a class="button" href={address_of("desk")}>
          Desk
        </a>
      )}
      {name !== "settings" && (
        <a class="button" href={address_of("settings")}>
          Settings
        </a>
      )}
    </header>
  );
}

/** The ways to the main places. */
function Places() {
  if (MAIN_PLACES.length < 2) return null;
  return (
    <nav class="places" aria-label="Places">
      {MAIN_PLACES.map(([name, words, drawn]) => (
        <a
          key={name}
          class="button"
          href={address_of(name)}
          aria-current={place.value.name === name ? "page" : undefined}
        >
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d={drawn} />
          </svg>
          {words}
        </a>
      ))}
    </nav>
  );
}

/** The running clocks that the page does not show already, the first due on top. */
function ClocksElsewhere() {
  const { name, id } = place.value;
  const elsewhere = running.value.filter(({ service }) => name !== "service" || service !== id);
  // The floor has them already.
  if (elsewhere.length === 0 || (name === "desk" && wide.value)) return null;
  return (
    <nav class="bar-clocks" aria-label="Running clocks">
      <ClockBar
        clocks={elsewhere.map(({ zone, service, client_name, zone_name, due }) => ({
          zone,
          name: `${client_name}, ${zone_name}`,
          zone_name,
          due,
          href: address_of("service", service),
        }))}
        now_ms={now_ms.value}
      />
    </nav>
  );
}

/** The last act, while it can be undone; and an act that could not be kept, until it is saved. */
function LastAct() {
  const state = kept_state.value;
  if (typeof state === "object") {
    return <NotKeptBar words={state.words} text={state.text} onSaved={let_unkept_go} />;
  }
  const act = last_act.value;
  // What rings goes first; the act stays in the list of the day.
  if (!act || ringing.value.length > 0) return null;
  // At the basin it stands beside what was tapped.
  if (!act.asks && place.value.name === "service" && basin_is_open(place.value.id)) return null;
  return (
    <UndoBar
      words={act.words}
      state={act.state}
      asks={act.asks}
      onUndo={() => void undo(act.id)}
      onRedo={() => void redo(act.id)}
      onSure={() => void undo(act.id, true)}
      onLeave={let_act_be}
    />
  );
}

/**
 * The part under the thumb: the next step, help and, on a phone's main places, the ways between.
 */
function Bar({ step }: { step: JSX.Element | null }) {
  const main = MAIN_PLACES.some(([name]) => name === place.value.name);
  // What rings takes the place of the clocks, one client at a time.
  const [first] = rings_by_service(ringing.value);
  return (
    <section class="bar" aria-label="Clocks and next step">
      {/* Above what rings: as it fades, nothing moves away under the thumb. */}
      <LastAct />
      {first ? (
        <Ringing
          key={first.service}
          words={first.words}
          href={address_of("service", first.service)}
          onHeard={() => hear(first.moments)}
        />
      ) : (
        <>
          <Boundary children={<TestsRinging />} />
          <Boundary children={<ClocksElsewhere />} />
        </>
      )}
      <div class="bar-step">
        {step}
        <HelpButton />
      </div>
      {main && !wide.value && country_known.value && <Places />}
    </section>
  );
}
