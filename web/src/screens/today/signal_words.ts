// What is still missing before this device works without a signal, in a sentence or two.
import type { Device } from "../../engine/device";
import { fetched_words } from "../../engine/where";
import type { Shell } from "../../offline/bridge";

const NOT_YET = "Not ready without a signal yet";

/**
 * Returns the words; empty once the page and its engine are kept and tested.
 *
 * `tested` says whether this engine was kept and passed its self-test here at an earlier opening.
 */
export function signal_words(
  page: Shell,
  engine: Device,
  forgets: boolean,
  tested: boolean,
): string {
  if (forgets) return "This window keeps nothing for later, so it needs a signal.";
  if (page.state === "not kept") return page.why;
  if (engine.state === "failed") {
    const { fetched } = engine;
    const here = fetched ? ` ${fetched_words(fetched)} is here.` : "";
    const next = engine.by_itself ? " The next try comes by itself." : "";
    return `This page opens without a signal but cannot calculate.${here} ${engine.why}${next}`;
  }
  if (engine.state === "ready" && !engine.kept) {
    return "No room to keep the engine, so it needs a signal. Free some space.";
  }
  if (page.state === "keeping") return `${NOT_YET}: saving the page.`;
  if (engine.state === "ready" || tested) return "";
  if (engine.state === "resting") {
    return engine.why
      ? `${NOT_YET}. ${engine.why}`
      : `${NOT_YET}. The rest comes while nobody touches the page.`;
  }
  if (engine.of_bytes === 0) return `${NOT_YET}: asking for the engine.`;
  return engine.bytes < engine.of_bytes
    ? `${NOT_YET}: ${fetched_words(engine)} is here.`
    : `${NOT_YET}: all is here and being tested.`;
}
