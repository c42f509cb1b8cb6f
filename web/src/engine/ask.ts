// The one way to a calculation. Questions wait in one queue and are worked out one at a time. The
// server's one calculating thread and the device's worker both work that way. Guaranteed: an
// aborted question never answers, and leaves the queue at once. The device answers if its engine is
// warm and free. Else the server and an engine that is on its way are both asked, and the first
// answer counts: a server that hangs costs no more than the phone's own time.
import { signal } from "@preact/signals";
import { NoAnswer, read_reply, send } from "../api/client";
import type {
  CalibrationReply,
  CalibrationRequest,
  FormulationReply,
  FormulationRequest,
  JudgementReply,
  JudgementRequest,
  LabelsReply,
  LabelsRequest,
  LighteningReply,
  LighteningRequest,
  MendReply,
  MendRequest,
  MixReply,
  MixRequest,
  PredictionReply,
  PredictionRequest,
  ReachesReply,
  ReachesRequest,
  SafetyReviewReply,
  ScheduleReply,
  ScheduleRequest,
  ServiceReviewRequest,
  SwatchPlanReply,
  SwatchPlanRequest,
} from "../api/shapes";
import { ask_device, DeviceFailed, hurry, is_coming, is_free, prepare, until_free } from "./device";

interface Calculations {
  formulations: { request: FormulationRequest; reply: FormulationReply };
  predictions: { request: PredictionRequest; reply: PredictionReply };
  mixes: { request: MixRequest; reply: MixReply };
  schedules: { request: ScheduleRequest; reply: ScheduleReply };
  judgements: { request: JudgementRequest; reply: JudgementReply };
  mends: { request: MendRequest; reply: MendReply };
  "safety/services": { request: ServiceReviewRequest; reply: SafetyReviewReply };
  labels: { request: LabelsRequest; reply: LabelsReply };
  lightenings: { request: LighteningRequest; reply: LighteningReply };
  reaches: { request: ReachesRequest; reply: ReachesReply };
  calibrations: { request: CalibrationRequest; reply: CalibrationReply };
  swatch_plans: { request: SwatchPlanRequest; reply: SwatchPlanReply };
}

export { Refused } from "../api/client";

export type Calculation = keyof Calculations;
export type Request<Q extends Calculation> = Calculations[Q]["request"];

export interface Answer<Q extends Calculation> {
  reply: Calculations[Q]["reply"];
  worked_out: "device" | "server";
  answered_at_ms: number;
}

export const LONGEST_WAIT_MS = 20_000;

/** Whether a question got no answer from the server and waits for the engine on this device. */
export const waits_for_device = signal(false);

type Asked<Q extends Calculation> = [
  calculation: Q,
  request: Request<Q>,
  aborted: AbortSignal,
  longest_wait_ms: number,
];

interface Waiting {
  run: () => Promise<void>;
  signal: AbortSignal;
}

const queue: Waiting[] = [];
let busy = false;

/**
 * Returns the answer to a question, and where it was worked out.
 *
 * Throws `Refused` or `NoAnswer` (both say what to do), or the reason `signal` was aborted with.
 * The wait counts from when the question leaves the queue; `first` puts it before all that wait.
 */
export function ask<Q extends Calculation>(
  calculation: Q,
  request: Request<Q>,
  { signal = new AbortController().signal, longest_wait_ms = LONGEST_WAIT_MS, first = false } = {},
): Promise<Answer<Q>> {
  return new Promise((resolve, reject) => {
    if (signal.aborted) return reject(signal.reason);
    const waiting: Waiting = {
      signal,
      run: () => work_out(calculation, request, signal, longest_wait_ms).then(resolve, reject),
    };
    signal.addEventListener("abort", () => {
      const place = queue.indexOf(waiting);
      if (place >= 0) queue.splice(place, 1);
      reject(signal.reason);
    });
    if (first) queue.unshift(waiting);
    else queue.push(waiting);
    void workThrough();
  });
}

async function workThrough(): Promise<void> {
  if (busy) return;
  busy = true;
  for (let next = queue.shift(); next; next = queue.shift()) await next.run();
  busy = false;
}

async function work_out<Q extends Calculation>(...asked: Asked<Q>): Promise<Answer<Q>> {
  if (is_free()) {
    try {
      return await on_device(...asked);
    } catch (why) {
      if (!(why instanceof DeviceFailed)) throw why;
    }
  }
  prepare();
  return await first_to_answer(...asked);
}

/**
 * Returns the answer of the server or the device, whichever comes first. An engine that is not on
 * its way joins once the server gives no answer. A refusal is an answer too.
 */
async function first_to_answer<Q extends Calculation>(
  calculation: Q,
  request: Request<Q>,
  aborted: AbortSignal,
  longest_wait_ms: number,
): Promise<Answer<Q>> {
  const over = new AbortController();
  const ended = AbortSignal.any([aborted, over.signal]);
  const by_server = on_server(calculation, request, ended, longest_wait_ms);
  const no_answer = new Promise<NoAnswer>((resolve) => {
    by_server.catch((why) => why instanceof NoAnswer && resolve(why));
  });
  try {
    const by_device = on_device_in_time(no_answer, calculation, request, ended, longest_wait_ms);
    const won = await Promise.any([by_server, by_device].map(settled));
    if ("why" in won) throw won.why;
    return won.answer;
  } catch (why) {
    if (!(why instanceof AggregateError)) throw why;
    const [from_server, from_device] = why.errors as [NoAnswer, DeviceFailed];
    if (!from_device.message) throw from_server;
    throw new NoAnswer(`${from_server.message} ${from_device.message}`, { cause: why });
  } finally {
    over.abort();
    waits_for_device.value = false;
  }
}

/** Returns an answer, or a reason that ends the question; throws where the other may still answer. */
function settled<Q extends Calculation>(one: Promise<Answer<Q>>) {
  return one.then(
    (answer) => ({ answer }),
    (why: unknown) => {
      if (why instanceof NoAnswer || why instanceof DeviceFailed) throw why;
      return { why };
    },
  );
}

async function on_device_in_time<Q extends Calculation>(
  no_answer: Promise<NoAnswer>,
  ...asked: Asked<Q>
): Promise<Answer<Q>> {
  const [, , ended, longest_wait_ms] = asked;
  if (!is_coming()) {
    await no_answer;
    // Without words: it says nothing more than the server's failure does.
    if (!hurry()) throw new DeviceFailed("");
  }
  const late = new AbortController();
  let ring: ReturnType<typeof setTimeout> | undefined;
  void no_answer.then(() => {
    if (ended.aborted) return;
    waits_for_device.value = true;
    ring = setTimeout(
      () =>
        late.abort(new DeviceFailed("The engine on this device is not ready yet. Ask again soon.")),
      longest_wait_ms,
    );
  });
  try {
    await until_free(AbortSignal.any([ended, late.signal]));
    return await on_device(...asked);
  } finally {
    clearTimeout(ring);
  }
}

async function on_device<Q extends Calculation>(
  calculation: Q,
  request: Request<Q>,
  aborted: AbortSignal,
  longest_wait_ms: number,
): Promise<Answer<Q>> {
  const asked = JSON.stringify(request);
  const { status, body } = await ask_device(calculation, asked, aborted, longest_wait_ms);
  const reply = read_reply<Calculations[Q]["reply"]>(status, body);
  return { reply, worked_out: "device", answered_at_ms: Date.now() };
}

async function on_server<Q extends Calculation>(
  calculation: Q,
  request: Request<Q>,
  aborted: AbortSignal,
  longest_wait_ms: number,
): Promise<Answer<Q>> {
  const timer = new AbortController();
  const ring = setTimeout(
    () =>
      timer.abort(
        new NoAnswer(
          `No answer after ${Math.round(longest_wait_ms / 1000)} s: the server is slow or the ` +
            "signal is weak. What you entered is kept on this phone.",
        ),
      ),
    longest_wait_ms,
  );
  try {
    const reply = await send<Calculations[Q]["reply"]>(`/api/${calculation}`, {
      body: request,
      signal: AbortSignal.any([aborted, timer.signal]),
    });
    aborted.throwIfAborted();
    return { reply, worked_out: "server", answered_at_ms: Date.now() };
  } finally {
    clearTimeout(ring);
  }
}
