import "./style.css";
import { effect } from "@preact/signals";
import { render } from "preact";
import { watch_acts_here } from "./act_here";
import { hear, ringing, watch_alarms } from "./alarm";
import { watch_bench } from "./bench/bench";
import { watch_questions } from "./bench/questions";
import { keep, recall } from "./device/kept";
import { settings } from "./device/settings";
import { open_typed } from "./device/typed";
import { start_at_rest, start_if_kept } from "./engine/device";
import { hold_off_while } from "./engine/patience";
import type { OpenQuestion } from "./engine/question";
import { formulas, strip } from "./engine/questions";
import { hold, keep_shell, shell_settled, when_told } from "./offline/bridge";
import { look_at_storage, something_to_lose } from "./offline/storage";
import { demo_is_left, in_demo } from "./outbox/world";
import { all_is_open, opens_with } from "./parts/later";
import { open_acts } from "./records/acts";
import { is_paired, open_records } from "./records/read";
import { kept_state, last_act } from "./records/write";
import { clock_runs, running, watch_clock } from "./salon/service/running";
import { fetch_shelf } from "./shelf/shelf";
import { Shell } from "./shell";

effect(() => {
  const { theme } = settings.value;
  document.documentElement.dataset.theme = theme === "device" ? "" : theme;
});

// The last answers are there before anything is asked, so that a reload without signal keeps them.
keep_answer("formulas", formulas);
keep_answer("strip", strip);

watch_bench();
watch_clock();
watch_alarms();
watch_acts_here();
when_told(({ go_to, heard }) => {
  // It is about the salon's own records.
  if (in_demo) return;
  if (go_to?.startsWith("#/")) location.hash = go_to;
  if (heard) hear(ringing.peek().filter(({ key }) => key === heard));
});
watch_questions();
void fetch_shelf();
// A store that does not open now is tried again by the next write, which says so where it fails.
opens_with(
  laid_out()
    .then(open_records)
    .then(() => open_acts(Date.now()))
    .catch(() => undefined),
);
open_typed().catch(() => undefined);

// What is foretold of the zones on a head comes with the first of them, and stays.
const end_waiting = effect(() => {
  if (!clock_runs.value) return;
  all_is_open()
    .then(() => import("./prediction/everywhere"))
    .then(
      ({ watch_everywhere }) => {
        end_waiting();
        watch_everywhere();
      },
      () => undefined,
    );
});

// A phone of its own sends nothing, and does not load what would.
effect(() => {
  if (!is_paired.value || in_demo) return;
  all_is_open()
    .then(() => import("./courier/run"))
    .then(
      ({ start }) => start(),
      () => undefined,
    );
});

addEventListener("online", () => {
  void fetch_shelf();
  for (const question of [formulas, strip])
    if (question.asked.peek().state === "failed") question.again();
});

// An update of the page waits for these; name here what it must never interrupt.
effect(() => (clock_runs.value && !in_demo ? hold("a clock is running") : undefined));
effect(() => (kept_state.value === "kept" ? undefined : hold("something is not saved yet")));

effect(() => {
  if (last_act.value) void something_to_lose();
});

const page = document.getElementById("page");
if (page) render(<Shell />, page);
hold_off_while(clock_about_to_ring);
// An engine that is kept here works from the first paint on. Else the page comes first, since it is
// small and opens without the engine.
requestAnimationFrame(() => setTimeout(start_if_kept));
void keep_shell();
void shell_settled().then(start_at_rest);
void look_at_storage();
void all_is_open()
  .then(() => import("./pages/once_open"))
  .catch(() => undefined);
// A window that was closed with the demo day open left it behind.
if (!in_demo && demo_is_left())
  void all_is_open()
    .then(() => import("./demo/demo"))
    .then(({ sweep_demo }) => sweep_demo())
    .catch(() => undefined);

/** Resolves once the demo day is laid out, where this window shows it; at once where it does not. */
function laid_out(): Promise<void> {
  return in_demo
    ? import("./demo/demo").then(({ lay_out_demo }) => lay_out_demo())
    : Promise.resolve();
}

/** Whether a zone's next step is less than a minute away, or has just come. */
function clock_about_to_ring(): boolean {
  const now_ms = Date.now();
  return running.peek().some(({ due }) => Math.abs(due.at_ms - now_ms) < 60_000);
}

function keep_answer<Q extends "formulations" | "predictions">(
  name: string,
  question: OpenQuestion<Q>,
): void {
  type Answered = Extract<typeof question.asked.value, { state: "answered" }>;
  const before = recall<Answered | null>(`answer.${name}`, null);
  if (before?.state === "answered") question.restore(before.request, before.answer);
  effect(() => {
    const asked = question.asked.value;
    if (asked.state !== "answered") return;
    keep(`answer.${name}`, asked);
    void something_to_lose();
  });
}
