// Decides whether a service may be mixed and started. Without an answer to the present question it
// is held. Only an answer of the rules opens it.
import type { Entity } from "../records/shapes";
import { gate_of, say } from "./state";

const MOST_TEST_GRAMS = 10; // a dab, a strand or a swatch takes 2 to 10 g: common practice

/** Whether a zone is for a client's head; a few grams for a test are not held. */
export function is_for_client(
  { purpose = "client" }: Entity<"service">,
  { mix, lightener, work }: Entity<"zone">,
): boolean {
  const developer_g = mix?.developer?.grams ?? 0;
  const mixed_g = mix?.parts.reduce((sum, { grams }) => sum + grams, developer_g) ?? 0;
  const grams =
    work === "lightener" && lightener ? lightener.grams * (1 + lightener.mix_ratio) : mixed_g;
  return purpose === "client" || grams > MOST_TEST_GRAMS;
}

/** Whether the grams of a zone stay hidden. Once a mix is on nothing is held: it must be rinsed. */
export function is_withheld(service: Entity<"service">, zone: Entity<"zone">): boolean {
  return !zone.first_section_at && is_for_client(service, zone) && !may_mix(service.id);
}

/** Whether the grams of a service may show. */
export function may_mix(service: string): boolean {
  const { is_current, reply } = gate_of(service);
  return is_current && reply?.may_mix === true;
}

/** Whether the rules last let a clock start; the tap asks them again all the same. */
export function may_start(service: string): boolean {
  const { is_current, reply } = gate_of(service);
  return is_current && reply?.may_start === true;
}

/**
 * Keeps asking the rules about a service as its records change. Returns the function that stops it.
 */
export function watch_gate(service: string): () => void {
  let end: (() => void) | undefined;
  let ended = false;
  void import("./review").then(
    ({ watch }) => {
      if (!ended) end = watch(service);
    },
    () =>
      say(service, { is_current: false, sentence: "The safety rules did not load. Try again." }),
  );
  return () => {
    ended = true;
    end?.();
  };
}

/** Asks the rules at this very moment. Returns whether the clock may start; no answer is no. */
export async function may_start_now(service: string): Promise<boolean> {
  try {
    const { ask_now } = await import("./review");
    return await ask_now(service);
  } catch {
    return false;
  }
}
