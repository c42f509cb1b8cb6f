// What is read off the mix and its pack: confirmed in one tap that names it all.
import type { Question } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { answer, draft_name } from "../../gate/answer";
import { use_settled } from "../../parts/settled";
import { TextField } from "../../parts/text";
import type { Entity } from "../../records/shapes";

const CLEAN: Record<string, readonly [value: string, says: string]> = {
  labelled: ["yes", "in the maker’s own pack, with its label"],
  label_caution: ["yes", "the allergy caution and the test directions are on the label"],
  heat: ["no", "no heat will be used"],
};

interface OfThePack {
  /** What is confirmed as it is said; of each line by itself. */
  given: { question: Question; value: string; words: string; says: string }[];
  /** The version to be typed, where it is asked of one line. */
  version: Question | undefined;
}

/** Returns what one tap can say of the mix and its pack; nothing for fewer than two questions. */
export function pack_answers(questions: readonly Question[]): OfThePack | undefined {
  const lines = new Set(
    questions.flatMap(({ kept_with, about }) => (kept_with === "line" ? about : [])),
  );
  const given = questions.flatMap((question) => {
    const [value, says] = CLEAN[question.fact] ?? [];
    if (!value || !says) return [];
    const words = question.answers.find((one) => one.value === value)?.words ?? value;
    const of_line = question.kept_with === "line" && lines.size > 1 ? `${question.about}: ` : "";
    return [{ question, value, words, says: `${of_line}${says}` }];
  });
  const versions = questions.filter(({ fact }) => fact === "leaflet_version");
  const version = versions.length === 1 ? versions[0] : undefined;
  if (!given.some(({ question }) => question.kept_with === "line")) return undefined;
  return given.length + (version ? 1 : 0) > 1 ? { given, version } : undefined;
}

interface PackProps extends OfThePack {
  service: Entity<"service">;
  /** While the last answer is being checked, another tap would answer twice. */
  wait: boolean;
  onOther: () => void;
}

/** Returns the list with its one tap, and the way to answer one by one. */
export function ThePack({ service, given, version, wait, onOther }: PackProps) {
  const draft = version ? draft_name(version) : "answer leaflet_version";
  const [typed, put, forget] = useTyped(draft, service.id, "");
  const takes_taps = use_settled() && !wait;
  const text = typed.trim();
  const lines = new Set(given.flatMap(({ question }) => question.about ?? []));
  const [line] = lines;
  const pack = lines.size === 1 ? `the pack of ${line}` : "each pack";
  const can = !version || text !== "";
  const confirm = async () => {
    if (!takes_taps) return;
    const read = version ? [{ question: version, value: text, words: text }] : [];
    await answer(service, [...given, ...read]);
    forget();
  };
  return (
    <section class="stack" aria-label="The mix and its pack">
      <p>Read {pack} and the leaflet. Then confirm all of this:</p>
      <ul class="safety-confirmed">
        {given.map(({ question, says }) => (
          <li key={question.pointer}>{says}</li>
        ))}
        {version && <li>the leaflet has the version below</li>}
      </ul>
      {version && <TextField label="Leaflet’s version, as printed" value={typed} onType={put} />}
      <button
        type="button"
        class="safety-answer"
        disabled={!can}
        aria-disabled={!takes_taps}
        onClick={() => void confirm()}
      >
        {can ? "All true of this mix" : "Type the version first"}
      </button>
      <button type="button" class="safety-answer" onClick={onOther}>
        Ask one by one
      </button>
    </section>
  );
}
