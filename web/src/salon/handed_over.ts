// Whether the phone is in a client's hands: then their questions are all it shows.
import { kept } from "../device/kept";
import { author_first } from "./who";

/** The service whose client has the phone; empty while the salon has it. A reload changes nothing. */
export const handed_over = kept("handed_over", "");

/** Hands the phone to the client of a service; who is working is asked before, not of the client. */
export async function hand_over(service: string): Promise<void> {
  await author_first();
  handed_over.value = service;
}

/** Ends it: the salon has the phone again. */
export function hand_back(): void {
  handed_over.value = "";
}
