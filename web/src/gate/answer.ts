// Writes each answer, look and decision to the record it belongs to.
import type { Question } from "../api/shapes";
import { at_now } from "../device/when";
import { merge_of } from "../records/fold";
import { author_here, one } from "../records/read";
import type { Answer, Entity } from "../records/shapes";
import { type Change, clear, new_id, setting_change, setting_id, together } from "../records/write";
import { answers_of } from "../salon/service/answers";
import { mixed_zones } from "../salon/service/mixed";
import { author_first } from "../salon/who";

/** A kept answer, with the question's words and the possible answers. */
export interface Said extends Answer {
  asked?: string;
  words?: string;
  options?: Question["answers"];
}

type Service = Entity<"service">;

/** Whether two people's answers merge to the more cautious: then it is a field of the client's. */
const is_merged = (fact: string) => merge_of("client", fact) === "safety";

/** Returns the key of an answer among those of its client or service. */
function key_of({ fact, kept_with, about }: Question): string {
  return kept_with === "test" ? `${fact}:${about}` : fact;
}

/** Returns the key of the setting that keeps what is known of a line: said once, not per visit. */
function card_key({ fact, about }: Question): string {
  return `line card: ${about}: ${fact}`;
}

/** Returns the name under which a half-typed answer is kept: two lines may ask the same. */
export function draft_name({ fact, about }: Question): string {
  return `answer ${fact}${about ? ` of ${encodeURIComponent(about)}` : ""}`;
}

const FRESH_MS = 24 * 3_600_000;

/** Whether a question has been answered, "not sure" included, and the answer is still fresh. */
export function is_answered(service: Service, question: Question): boolean {
  if (question.kept_with === "line") return Boolean(card_said(question));
  if (question.kept_with === "zone") return mixed_zones(service.id).every(({ heat }) => heat);
  const said = answers_of(service)[key_of(question)];
  return Boolean(said) && !(question.fresh && Date.now() - Date.parse(said?.at ?? "") > FRESH_MS);
}

function card_said(question: Question): Said | undefined {
  return one("setting", setting_id(card_key(question))).value?.value as Said | undefined;
}

/**
 * Keeps the answers to some questions as one act.
 *
 * Throws `CautionNeedsDecision` if an answer says less than the record.
 */
export async function answer(
  service: Service,
  given: readonly { question: Question; value: unknown; words: string }[],
): Promise<void> {
  await author_first();
  const client: Record<string, unknown> = {};
  const facts: Record<string, unknown> = {};
  const changes: Change[] = [];
  for (const { question, value, words } of given) {
    const said = said_now(question, value, words);
    const key = key_of(question);
    switch (question.kept_with) {
      case "line":
        changes.push(setting_change(card_key(question), said));
        break;
      case "zone": {
        const heat = value === "no" ? "no" : "yes";
        for (const { id } of mixed_zones(service.id)) {
          changes.push({ do: "change", kind: "zone", id, fields: { heat } });
        }
        break;
      }
      case "service":
        facts[`facts.${key}`] = said;
        break;
      default:
        client[`answers.${key}`] = said;
        if (is_merged(key)) client[key] = value;
    }
  }
  if (Object.keys(client).length > 0) {
    changes.push({ do: "change", kind: "client", id: service.client ?? "", fields: client });
  }
  if (Object.keys(facts).length > 0) {
    changes.push({ do: "change", kind: "service", id: service.id, fields: facts });
  }
  const [first] = given;
  const said =
    given.length === 1 && first
      ? answer_words(first.question, first.words)
      : `Answered ${given.length} questions.`;
  await together(changes, said);
}

/** Returns an answer in words: "Black tattoo: never." */
function answer_words({ fact }: Question, words: string): string {
  const name = fact.replaceAll("_", " ");
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}: ${words}.`;
}

function said_now({ words: asked, answers }: Question, value: unknown, words: string): Said {
  return {
    value: value as Said["value"],
    at: at_now(),
    by: author_here.peek(),
    asked,
    words,
    ...(answers.length > 0 && { options: answers }),
  };
}

/** Lowers a client's caution: with what was seen, and why it may fall. */
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
  await together([{ do: "change", kind: "client", id, fields }], answer_words(question, words));
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
