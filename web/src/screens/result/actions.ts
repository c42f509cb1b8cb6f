// Keeps what came of a service.

import { at_now } from "../../device/when";
import type { ReadingWords } from "../../records/shapes";
import { change } from "../../records/write";
import { readings_of } from "../../salon/service/readings";
import { type Service, zones_of } from "../../salon/service/services";

// Yellow is warm, ash and violet are cool: common practice, no published source. Pink is either.
const AS_RESULT: Partial<Record<ReadingWords, string>> = {
  as_shown: "as_shown",
  yellower: "warmer",
  greener: "cooler",
  more_violet: "cooler",
  greyer: "cooler",
  darker: "darker",
  lighter: "lighter",
  patchy: "patchy",
};

/** Keeps part of what came of a service. */
export async function put_result(
  { id, result }: Service,
  fields: Partial<NonNullable<Service["result"]>>,
): Promise<void> {
  await change(
    "service",
    id,
    { result: { ...result, ...fields, at: at_now() } },
    "Kept the result.",
  );
}

/** Returns what the last look at a dried strand said, as a result is said; undefined for none. */
export function said_of_dried(service: string): string | undefined {
  const words = zones_of(service)
    .flatMap(({ id, rinsed_at }) => (rinsed_at ? readings_of(id) : []))
    .filter(({ where }) => where === "dried")
    .sort((a, b) => (a.at ?? "").localeCompare(b.at ?? ""))
    .at(-1)?.words;
  return words && (AS_RESULT[words] ?? words);
}
