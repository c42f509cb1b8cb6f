// Which questions of a mix and its pack one tap may answer, and which stay by themselves.
import { expect, test } from "vitest";
import type { Question } from "../../api/shapes";
import { pack_answers } from "./pack";

const YES_NO = [
  { value: "yes", words: "Yes" },
  { value: "no", words: "No" },
];
const of_line = (fact: string, about = "Quill"): Question => ({
  ...{ fact, about, pointer: `/plan/lines/${about}/${fact}`, words: `${fact}?`, answers: YES_NO },
  ...{ closes: [], may_skip: false, fresh: false, of: "card", kept_with: "line" },
  input: fact === "leaflet_version" ? "text" : "choice",
});
const HEAT: Question = { ...of_line("heat"), about: undefined, kept_with: "zone" } as never;

const said = (questions: readonly Question[]) =>
  pack_answers(questions)?.given.map(({ question, value, says }) => [question.fact, value, says]);

test("each question keeps an answer of its own, in the words that are confirmed", () => {
  const questions = [of_line("labelled"), HEAT, of_line("leaflet_version")];
  expect(said(questions)).toEqual([
    ["labelled", "yes", "in the maker’s own pack, with its label"],
    ["heat", "no", "no heat will be used"],
  ]);
  expect(pack_answers(questions)?.version?.fact).toBe("leaflet_version");
});

test("two lines are named in each statement, and their leaflets are asked one by one", () => {
  const both = ["Quill", "Still"].flatMap((line) => [
    of_line("labelled", line),
    of_line("leaflet_version", line),
  ]);
  expect(said(both)?.map(([, , says]) => says)).toEqual([
    "Quill: in the maker’s own pack, with its label",
    "Still: in the maker’s own pack, with its label",
  ]);
  expect(pack_answers(both)?.version).toBeUndefined();
});

test.each([
  ["one question alone", [of_line("labelled")]],
  ["heat alone", [HEAT]],
  ["a leaflet alone", [of_line("leaflet_version")]],
  ["what no pack is usually free of", [of_line("for_fresh_lightened"), of_line("nh3_percent")]],
])("%s is asked by itself", (_, questions) => {
  expect(pack_answers(questions)).toBeUndefined();
});
