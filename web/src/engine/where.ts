// Says in words where an answer is worked out.
import { computed } from "@preact/signals";
import { time_of_day } from "../device/when";
import { type Answer, type Calculation, waits_for_device } from "./ask";
import { device, is_fetching } from "./device";

/** Returns where and when an answer was worked out. */
export function worked_out_words(
  answer: Pick<Answer<Calculation>, "worked_out" | "answered_at_ms">,
) {
  const at = time_of_day(answer.answered_at_ms);
  const where = answer.worked_out === "device" ? "this device" : "the server";
  return `Worked out on ${where} at ${at}.`;
}

/** What a question waits for while the server is out of reach; undefined otherwise. */
export const waiting_words = computed<string | undefined>(() => {
  if (!waits_for_device.value) return undefined;
  const now = device.value;
  if (is_fetching(now)) {
    return `The server does not answer. Waiting for the engine on this device: ${fetched_words(now)}.`;
  }
  return "The server does not answer. Waiting for the engine on this device.";
});

/** Returns the state of a download, as "1.2 of 3.9 MB". */
export function fetched_words({ bytes, of_bytes }: { bytes: number; of_bytes: number }): string {
  return `${(bytes / 1e6).toFixed(1)} of ${(of_bytes / 1e6).toFixed(1)} MB`;
}
