// Whether a service may be mixed and started. While there is no answer to the present question it
// is held; nothing here opens it but an answer of the rules.
import { gate_of, say } from "./state";

/** Whether the grams of a service may be shown. */
export function may_mix(service: string): boolean {
  const { is_current, reply } = gate_of(service);
  return is_current && reply?.may_mix === true;
}

/** Whether the rules last said that a clock may start; the tap asks them anew all the same. */
export function may_start(service: string): boolean {
  const { is_current, reply } = gate_of(service);
  return is_current && reply?.may_start === true;
}

/** Keeps asking the rules about a service as its records change. Returns what ends it. */
export function watch_gate(service: string): () => void {
  let end: (() => void) | undefined;
  let ended = false;
  void import("./review").then(
    ({ watch }) => {
      if (!ended) end = watch(service);
    },
    () =>
      say(service, { is_current: false, sentence: "The safety rules did not come. Try again." }),
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
