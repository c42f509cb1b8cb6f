// An open question is asked again as the entries change. A new question drops the old one. While it
// waits it shows no answer: an old answer never shows under a new question.
import { type ReadonlySignal, signal } from "@preact/signals";
import { Refused } from "../api/client";
import type { Fault } from "../api/shapes";
import { type Answer, ask, type Calculation, type Request } from "./ask";

export type Asked<Q extends Calculation> =
  | { state: "nothing" }
  | { state: "working"; request: Request<Q> }
  | { state: "answered"; request: Request<Q>; answer: Answer<Q> }
  | { state: "failed"; request: Request<Q>; sentence: string; faults: readonly Fault[] };

export interface OpenQuestion<Q extends Calculation> {
  readonly asked: ReadonlySignal<Asked<Q>>;
  /** Asks, unless this very question is being worked out or has its answer. */
  put(request: Request<Q>): void;
  /** Asks the last question once more. */
  again(): void;
  /** Forgets question and answer. */
  drop(): void;
  /** Takes an answer kept from before, as if it came just now. */
  restore(request: Request<Q>, answer: Answer<Q>): void;
}

class Dropped extends Error {}

/** Returns an open question for one calculation, silent until it gets a request. */
export function open_question<Q extends Calculation>(calculation: Q): OpenQuestion<Q> {
  const asked = signal<Asked<Q>>({ state: "nothing" });
  let current: AbortController | undefined;

  function start(request: Request<Q>): void {
    current?.abort(new Dropped());
    const mine = new AbortController();
    current = mine;
    asked.value = { state: "working", request };
    ask(calculation, request, { signal: mine.signal }).then(
      (answer) => {
        if (mine === current) asked.value = { state: "answered", request, answer };
      },
      (why: unknown) => {
        if (mine !== current) return;
        asked.value = {
          state: "failed",
          request,
          sentence: why instanceof Error ? why.message : String(why),
          faults: why instanceof Refused ? why.faults : [],
        };
      },
    );
  }

  return {
    asked,
    put(request) {
      const before = asked.peek();
      const settled = before.state === "working" || before.state === "answered";
      if (settled && JSON.stringify(before.request) === JSON.stringify(request)) return;
      start(request);
    },
    again() {
      const before = asked.peek();
      if (before.state !== "nothing") start(before.request);
    },
    drop() {
      current?.abort(new Dropped());
      current = undefined;
      asked.value = { state: "nothing" };
    },
    restore(request, answer) {
      asked.value = { state: "answered", request, answer };
    },
  };
}
