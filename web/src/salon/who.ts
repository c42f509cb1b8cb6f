// Who is working on this phone: a person of the team. What is written carries that person; where
// nobody was named it carries the phone.
import { computed, effect, signal } from "@preact/signals";
import { kept } from "../device/kept";
import { rfc3339 } from "../device/when";
import { all, author_here, device_here, is_paired, records_ready } from "../records/read";
import { type Change, new_id, set_writer, together } from "../records/write";

import { clock_runs } from "./service/running";

const plain = (name: string) => name.trim().toLocaleLowerCase();

const names = computed(
  () =>
    new Map(
      [...all("device").value, ...all("person").value].map(({ id, name }) => [id, name ?? ""]),
    ),
);

/** Returns the name of who wrote something. */
export function who_words(by: string): string {
  return names.value.get(by) || (by === device_here.value ? "this phone" : "another phone");
}

/** One of the team. */
interface Member {
  id: string;
  name: string;
}

/** The team by name. Two phones may each have added the same name: the first one counts. */
export const team = computed<readonly Member[]>(() => {
  const by_name = new Map<string, Member>();
  for (const { id, name = "" } of all("person").value) {
    const key = plain(name);
    if (key && !by_name.has(key)) by_name.set(key, { id, name });
  }
  return [...by_name.values()].sort((a, b) => a.name.localeCompare(b.name));
});

/** The name of who is working on this phone; empty while nobody was named. */
export const worker_name = computed(() =>
  author_here.value ? (names.value.get(author_here.value) ?? "") : "",
);

/** The same in two letters at most: "MO". */
export const initials = computed(() => {
  const words = worker_name.value.split(/\s+/).filter(Boolean);
  const ends = words.length > 1 ? [words[0], words.at(-1)] : words;
  return ends.map((word) => [...(word ?? "")][0]?.toLocaleUpperCase()).join("");
});

const open = signal(false);
let settle: (() => void)[] = [];

/** Whether the page asks who is working. It never does while a clock runs. */
export const asks_who = computed(() => open.value && !clock_runs.value);

/** Asks who is working, as somebody wants to change it. */
export function ask_who(): void {
  open.value = true;
}

/** Says who is working from now on. */
export async function works(person: string): Promise<void> {
  await set_writer(person);
  stop_asking();
}

/** Says it by a name, which joins the team where it is not in it yet. */
export async function works_by_name(name: string): Promise<void> {
  await works(await join_team(name));
}

/** Adds a name to the team, and returns its person; a name that is in the team stays one. */
export async function join_team(name: string): Promise<string> {
  const known = team.peek().find((member) => plain(member.name) === plain(name));
  if (known) return known.id;
  const [id, called] = [new_id(), name.trim()];
  const joins: Change = { do: "create", kind: "person", id, fields: { name: called } };
  await together([joins], `Added ${called} to the team.`);
  return id;
}

/** On a phone of a salon the day on which the answer was put off; on another, "for good". */
const put_off = kept("who_put_off", "");
const today = () => rfc3339(Date.now()).slice(0, 10);

/** Goes on without a name: a salon's phone asks again on another day, another phone never again. */
export function not_now(): void {
  put_off.value = is_paired.peek() ? today() : "for good";
  stop_asking();
}

/** Whether a phone of one's own still asks once, beside the day, for a name that nobody has to give. */
export const asks_once = computed(
  () =>
    records_ready.value &&
    !is_paired.value &&
    !author_here.value &&
    put_off.value === "" &&
    all("service").value.length > 0,
);

/**
 * Asks who is working before the first act that needs an author, and resolves once that is said or
 * put off. It resolves at once where somebody is named, where the phone is nobody's but its owner's,
 * and while a clock runs: nothing stands in front of a head with colour on it.
 */
export async function author_first(): Promise<void> {
  if (!is_paired.peek() || author_here.peek() || clock_runs.peek()) return;
  if (put_off.peek() === today()) return;
  open.value = true;
  await new Promise<void>((done) => settle.push(done));
}

function stop_asking(): void {
  open.value = false;
  const waiting = settle;
  settle = [];
  for (const done of waiting) done();
}

// A clock that another phone started ends the question, and what waited for it goes on.
effect(() => {
  if (open.value && clock_runs.value) stop_asking();
});
