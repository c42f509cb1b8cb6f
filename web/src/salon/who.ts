// Who is working on this phone: a person of the team. Each write carries that person; if nobody was
// named it carries the phone.
import { computed, effect, signal } from "@preact/signals";
import { kept } from "../device/kept";
import { useTyped } from "../device/typed";
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

/** Returns an author's name. */
export function who_words(by: string): string {
  return names.value.get(by) || (by === device_here.value ? "this phone" : "another phone");
}

/** One of the team. */
interface Member {
  id: string;
  name: string;
}

/** The team by name. If two phones added the same name, the first one counts. */
export const team = computed<readonly Member[]>(() => {
  const by_name = new Map<string, Member>();
  for (const { id, name = "" } of all("person").value) {
    const key = plain(name);
    if (key && !by_name.has(key)) by_name.set(key, { id, name });
  }
  return [...by_name.values()].sort((a, b) => a.name.localeCompare(b.name));
});

/** The name of the person working on this phone; empty until somebody was named. */
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

/** Asks who is working, because somebody wants to change it. */
export function ask_who(): void {
  open.value = true;
}

/** Says who is working from now on. */
export async function works(person: string): Promise<void> {
  await set_writer(person);
  stop_asking();
}

/** Says it by a name, which joins the team if it is not in it yet. */
export async function works_by_name(name: string): Promise<void> {
  await works(await join_team(name));
}

/** Returns what the question for one's own name shows, and what its answers do. */
export function useMyNames() {
  const [typed, onType] = useTyped("my_name", "", "");
  const chosen = author_here.value;
  return { members: team.value, chosen, typed, onType, onMember: works, onName: works_by_name };
}

/** Adds a name to the team, and returns its person; a known name stays one person. */
export async function join_team(name: string): Promise<string> {
  const known = team.peek().find((member) => plain(member.name) === plain(name));
  if (known) return known.id;
  const [id, called] = [new_id(), name.trim()];
  const joins: Change = { do: "create", kind: "person", id, fields: { name: called } };
  await together([joins], `Added ${called} to the team.`);
  return id;
}

/** On a salon's phone the day on which the answer was put off; on another, "for good". */
const put_off = kept("who_put_off", "");
const today = () => rfc3339(Date.now()).slice(0, 10);

/** Goes on without a name: a salon's phone asks again on another day, another phone never again. */
export function not_now(): void {
  put_off.value = is_paired.peek() ? today() : "for good";
  stop_asking();
}

/** Whether an unpaired phone still asks once, beside the day, for an optional name. */
export const asks_once = computed(
  () =>
    records_ready.value &&
    !is_paired.value &&
    !author_here.value &&
    put_off.value === "" &&
    all("service").value.length > 0,
);

/**
 * Asks who is working before the first act that needs an author, and resolves once that is answered
 * or put off. It resolves at once if somebody is named, if the phone is unpaired, and while a clock
 * runs: nothing comes before a head with colour on it.
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

// A clock that another phone started ends the question, and the waiting act goes on.
effect(() => {
  if (open.value && clock_runs.value) stop_asking();
});
