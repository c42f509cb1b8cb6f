// Writes what was answered, seen or decided to the record it belongs to.
import type { Question } from "../api/shapes";
import { at_now } from "../device/when";
import { author_here, one } from "../records/read";
import type { Answer } from "../records/shapes";
import { type Change, clear, new_id, set_setting, setting_id, together } from "../records/write";
import { author_first } from "../salon/who";
import { answers_of, MERGED, OF_CLIENT, type Service, tests_of } from "./facts";
import { card_key, cards_of, mixed_zones } from "./plan";

/** An answer as it is kept: with what was asked, in which words, and what could be said. */
export interface Said extends Answer {
  asked?: string;
  words?: string;
  options?: Question["answers"];
}

const is_merged = (fact: string) => (MERGED as readonly string[]).includes(fact);

/** Returns where a question's answer is kept: on the client, this service, its zones or a line. */
function place_of(service: Service, { fact, pointer }: Pick<Question, "fact" | "pointer">) {
  const line = /^\/plan\/lines\/(\d+)\//.exec(pointer);
  if (line)
    return { kind: "line" as const, key: cards_of(service.id)[Number(line[1])]?.line ?? "" };
  const test = /^\/facts\/tests\/(\d+)\//.exec(pointer);
  if (test) {
    return { kind: "client" as const, key: `${fact}:${tests_of(service)[Number(test[1])]?.id}` };
  }
  if (pointer === "/plan/heat") return { kind: "zones" as const, key: fact };
  const kind = OF_CLIENT.has(fact) || is_merged(fact) ? ("client" as const) : ("service" as const);
  return { kind, key: fact };
}

const FRESH_MS = 24 * 3_600_000;

/** Whether a question has been answered, "not sure" included, and the answer is still fresh. */
export function is_answered(service: Service, question: Question): boolean {
  const { kind, key } = place_of(service, question);
  if (kind === "line") return Boolean(card_said(key, question.fact));
  if (kind === "zones") return mixed_zones(service.id).every(({ zone }) => zone.heat);
  const said = answers_of(service)[key];
  return Boolean(said) && !(question.fresh && Date.now() - Date.parse(said?.at ?? "") > FRESH_MS);
}

function card_said(line: string, fact: string): Said | undefined {
  return one("setting", setting_id(card_key(line, fact))).value?.value as Said | undefined;
}

/**
 * Keeps the answers to some questions as one act.
 *
 * Throws `CautionNeedsDecision` where an answer says less than what is on record.
 */
export async function answer(
  service: Service,
  given: readonly { question: Question; value: unknown; words: string }[],
): Promise<void> {
  await author_first();
  const client: Record<string, unknown> = {};
  const facts: Record<string, unknown> = {};
  const zones: Change[] = [];
  for (const { question, value, words } of given) {
    const { kind, key } = place_of(service, question);
    const said = said_now(question, value, words);
    if (kind === "line") await set_setting(card_key(key, question.fact), said, "Answered.");
    else if (kind === "service") facts[`facts.${key}`] = said;
    else if (kind === "zones") {
      const heat = value === "no" ? "no" : "yes";
      for (const { zone } of mixed_zones(service.id)) {
        zones.push({ do: "change", kind: "zone", id: zone.id, fields: { heat } });
      }
    } else {
      client[`answers.${key}`] = said;
      if (is_merged(key)) client[key] = value;
    }
  }
  const changes: Change[] = [...zones];
  if (Object.keys(client).length > 0) {
    changes.push({ do: "change", kind: "client", id: service.client ?? "", fields: client });
  }
  if (Object.keys(facts).length > 0) {
    changes.push({ do: "change", kind: "service", id: service.id, fields: facts });
  }
  if (changes.length > 0) await together(changes, "Answered.");
}

function said_now({ words: asked, answers }: Question, value: unknown, words: string): Said {
  return {
    value,
    at: at_now(),
    by: author_here.peek(),
    asked,
    words,
    ...(answers.length > 0 && { options: answers }),
  };
}

/** Says less caution of a client than is on record: with what was seen, and why it may fall. */
export async function lower(
  service: Service,
  { question, value, words }: { question: Question; value: unknown; words: string },
  saw: string,
  why: string,
): Promise<void> {
  const id = service.client ?? "";
  await author_first();
  await clear("client", id, { [question.fact]: value }, saw, why);
  const fields = { [`answers.${question.fact}`]: said_now(question, value, words) };
  await together([{ do: "change", kind: "client", id, fields }], "Answered.");
}

/** What a named person decided on one finding. */
interface Deciding {
  rule: string;
  basis: string;
  edition: string;
  by: string;
  role: string;
  saw: string;
  why: string;
}

/** Keeps a decision, for ever. */
export async function decide(service: string, deciding: Deciding): Promise<void> {
  await author_first();
  const fields = { ...deciding, service, at: at_now() };
  await together([{ do: "create", kind: "decision", id: new_id(), fields }], "Decided.");
}
