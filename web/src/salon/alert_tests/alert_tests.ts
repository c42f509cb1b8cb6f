// Alert tests as screens need them: put on, due, read, or taken over from paper. Whether a test lets
// a service start is said by the safety rules of the engine alone; here is only when to look at it.
import { computed } from "@preact/signals";
import { kept } from "../../device/kept";
import { at_now, day_in_words, day_of, time_of_day } from "../../device/when";
import { all } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { change, create } from "../../records/write";
import { shelf } from "../../shelf/shelf";
import { worker_name } from "../who";

export type AlertTest = Entity<"alert_test">;

const HOUR_MS = 3_600_000;
/** The least a test waits, in hours, as the engine's own rules have it; a leaflet may ask for more. */
export const LEAST_HOURS = 48;

/** What a spot of skin can show, in the words the safety rules read. */
export const RESULTS = [
  ["clear", "no reaction"],
  ["itch", "itch"],
  ["redness", "redness"],
  ["swelling", "swelling"],
  ["blister", "blisters"],
  ["burning", "burning"],
  ["spread", "it spread"],
  ["other", "something else"],
] as const;
export type Result = (typeof RESULTS)[number][0];

/** Names that read or decided something on this phone, the last one first. */
const readers = kept<string[]>("readers", []);
const MOST_READERS = 6;

/** Remembers a name for the next time, so that it is one tap. */
export function remember_reader(name: string): void {
  const others = readers.peek().filter((other) => other !== name);
  readers.value = [name, ...others].slice(0, MOST_READERS);
}

/** The names to choose from: who is working, those who read before on this phone, the team. */
export const reader_names = computed(() => [
  ...new Set([
    ...(worker_name.value ? [worker_name.value] : []),
    ...readers.value,
    ...all("person").value.flatMap(({ name }) => name ?? []),
  ]),
]);

/** The lines one can test: one's own, or the demo shelf's while there is none. */
export const lines_to_test = computed(() => {
  const own = all("line").value.flatMap(({ name }) => name ?? []);
  const on_shelf = shelf.value.products.map(({ line }) => line);
  return [...new Set([...own, ...on_shelf])];
});

/** Returns the record of a line by its name; undefined for the demo's and for what left the shelf. */
export function line_named(name: string): Entity<"line"> | undefined {
  return all("line").value.find((line) => line.name === name);
}

/** Returns a client's tests, the latest first. */
export function tests_of(client: string): readonly AlertTest[] {
  return all("alert_test")
    .value.filter((test) => test.client === client)
    .sort((a, b) => applied_ms(b) - applied_ms(a));
}

export function applied_ms({ applied_at, created_at }: AlertTest): number {
  return Date.parse(applied_at ?? created_at);
}

/** Returns how long a line's test waits, in hours: 48, or longer where its leaflet says so. */
export function hours_of(line: string): number {
  return Math.max(LEAST_HOURS, line_named(line)?.leaflet?.min_hours ?? 0);
}

/** Returns when a test can be read, in ms since 1970: elapsed hours, whatever the clocks did. */
export function due_ms(test: AlertTest): number {
  return applied_ms(test) + hours_of(test.line ?? "") * HOUR_MS;
}

type Stage = "waits" | "to_read" | "clear" | "reacted";

/** Returns where a test stands at a moment. */
export function stage_of(test: AlertTest, now_ms: number): Stage {
  const result = test.result ?? "not_read";
  if (result === "clear") return "clear";
  if (result !== "not_read" && result !== "unknown") return "reacted";
  return now_ms >= due_ms(test) ? "to_read" : "waits";
}

/** The tests nobody has read, what is due first on top. */
export const unread = computed(() =>
  all("alert_test")
    .value.filter((test) => ["waits", "to_read"].includes(stage_of(test, 0)))
    .sort((a, b) => due_ms(a) - due_ms(b)),
);

/** Returns what was read of a test, in words: "no reaction", "not read". */
export function result_words(result: string | undefined): string {
  return (
    RESULTS.find(([known]) => known === result)?.[1] ?? (result ?? "not read").replace("_", " ")
  );
}

/** Returns a test as one line of words. */
export function test_words(test: AlertTest, now_ms: number): string {
  const stage = stage_of(test, now_ms);
  if (stage === "waits") return `read it from ${moment_words(due_ms(test))}`;
  if (stage === "to_read") return "read it now";
  const words = RESULTS.find(([result]) => result === test.result)?.[1] ?? test.result;
  const paper = test.from_paper ? ", from paper" : "";
  return `${words}${test.read_by ? `, read by ${test.read_by}` : ""}${paper}`;
}

/**
 * Returns a moment as this phone's wall clock shows it: "Sat 28 Nov, 10:15". A past day and one of
 * another year carry their year.
 */
export function moment_words(at_ms: number): string {
  return `${day_in_words(day_of(at_ms), day_of(Date.now()))}, ${time_of_day(at_ms)}`;
}

/** What a line's record says of itself, to be kept with a test of it: the test outlives the shelf. */
export function of_line(name: string) {
  const { leaflet_version, leaflet } = line_named(name) ?? {};
  return {
    line: name,
    ...(leaflet_version && { leaflet_version }),
    ...(leaflet?.method && { method: leaflet.method }),
  };
}

/** Puts a test on now; returns its id. */
export function put_on(client: string, line: string, site: string): Promise<string> {
  return create("alert_test", {
    client,
    ...of_line(line),
    site,
    applied_at: at_now(),
    applied_by: "salon",
    result: "not_read",
  });
}

/** Keeps what a spot showed, and who read it. */
export async function read_as(test: AlertTest, result: Result, by: string): Promise<void> {
  remember_reader(by);
  const said = result === "clear" ? "Read the test: no reaction." : "Read the test: it reacted.";
  await change("alert_test", test.id, { result, read_at: at_now(), read_by: by }, said);
}
