// The state of each service's gate, as the rules last said.
import { signal } from "@preact/signals";
import type { Question, SafetyReviewReply } from "../api/shapes";

/** The questions to put: those that hold a service, and those that only help. */
export interface Asked {
  waiting: readonly Question[];
  also: readonly Question[];
}

interface Gate {
  /** The last answer; it may be to an earlier question while the present one is asked. */
  reply?: SafetyReviewReply;
  /**
   * The questions of `reply` that had no answer when it came. They stay as they are until the next
   * reply: an answer can make the rest of them needless, as "no heat" does with a leaflet's heat.
   */
  asked?: Asked;
  /** Whether `reply` answers the present records. */
  is_current: boolean;
  /** Why there is no answer, in a sentence; empty while one is on its way or there. */
  sentence: string;
}

const UNASKED: Gate = { is_current: false, sentence: "" };

/** The gate of each service that this page asked about. */
export const gates = signal<Readonly<Record<string, Gate>>>({});

/** Returns the state of a service's gate. */
export function gate_of(service: string): Gate {
  return gates.value[service] ?? UNASKED;
}

/** Notes the state of a service's gate. */
export function say(service: string, gate: Gate): void {
  gates.value = { ...gates.peek(), [service]: gate };
}
