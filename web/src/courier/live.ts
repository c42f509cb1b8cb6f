// Other people's writes arrive while the page is shown: a stream of changes, each naming the place
// before it. A change that does not follow on is fetched instead, so a lost one leaves no hole.
import { createParser } from "eventsource-parser";
import type { Change } from "../api/shapes";
import { reach } from "./call";
import { caller } from "./position";
import { take_live } from "./pull";

// The server sends something every 20 s; a stream silent for longer is dead.
const LONGEST_SILENCE_MS = 45_000;

/**
 * Follows the salon's changes until `stop`, or until the stream ends or falls silent. Calls `fetch`
 * when changes must be fetched. Throws `Trouble` if the stream does not begin.
 */
export async function follow(stop: AbortSignal, fetch: () => Promise<void>): Promise<void> {
  const here = await caller();
  if (!here) return;
  const silence = new AbortController();
  const either = AbortSignal.any([stop, silence.signal]);
  let ring = setTimeout(() => silence.abort(), LONGEST_SILENCE_MS);
  let turn: Promise<unknown> = Promise.resolve();
  const parser = createParser({
    onEvent: ({ event, id, data }) => {
      // One after the other: each rests on the place that the one before it left.
      turn = turn.then(async () => {
        if (event === "change" && id) {
          const told = JSON.parse(data) as { from: string; changes: Change[] };
          if (await take_live(told, id)) return;
        }
        await fetch();
      });
      turn.catch(() => silence.abort());
    },
  });
  try {
    const path = `/api/sync/live?cursor=${encodeURIComponent(here.position.cursor)}`;
    const response = await reach(path, { token: here.pairing.token }, either);
    const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const part = await reader?.read();
      if (!part || part.done) break;
      clearTimeout(ring);
      ring = setTimeout(() => silence.abort(), LONGEST_SILENCE_MS);
      parser.feed(part.value);
    }
    await turn;
  } catch (why) {
    if (!either.aborted) throw why;
  } finally {
    clearTimeout(ring);
    silence.abort();
  }
}
