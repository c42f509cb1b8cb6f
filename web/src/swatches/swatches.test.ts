import "fake-indexeddb/auto";
import { beforeAll, expect, test } from "vitest";
import type { CalibrationReply, SwatchPlanReply } from "../api/shapes";
import { all, one, open_records } from "../records/read";
import { create, undo } from "../records/write";
import { as_product, by_label } from "../shelf/shelf";
import {
  developer_of,
  keep_plan,
  keep_reading,
  labelled,
  planned_swatches,
  question_of,
  read_swatches,
} from "./swatches";
import { go_back, is_of_all, put_in_force } from "./taught";

// An invented line.
const LINE = {
  name: "Quill",
  class: "neutral_demi",
  developer_percent: [1.9, 3],
  mix_ratio: 1.5,
  window: { min: 5, max: 20 },
} as const;
const DYES = { yellow: 0.2, violet: 0.4 } as never;

async function a_line() {
  const id = await create("line", { ...LINE, developer_percent: [1.9, 3] });
  const tube = await create("product", { line: id, code: "9V", level: 9, tone: ["violet"] });
  const line = () => one("line", id).value as NonNullable<ReturnType<typeof now>>;
  const now = () => one("line", id).value;
  return { id, tube, line };
}

const planned_of = (product: string, count: number) =>
  ({
    swatches: Array.from({ length: count }, () => ({
      hair: { level: 10 },
      mix: { parts: [{ product, grams: 12 }], minutes: 12 },
      predicted: { lab: [70, 2, 12] },
    })),
  }) as unknown as SwatchPlanReply;

beforeAll(open_records);

test("codes go on over plans, and a reading counts once after it was corrected", async () => {
  const { id, tube, line } = await a_line();
  await keep_plan(line(), planned_of(tube, 2));
  await keep_plan(line(), planned_of(tube, 1));
  expect(planned_swatches(id).map(({ row }) => row.code)).toEqual(["1", "2", "3"]);
  expect(question_of(line())).toBeNull();

  const [first] = planned_swatches(id);
  if (!first) throw new Error("three are planned");
  await keep_reading(first, { lab: [66, 2, 12], bare: [81, 1, 19], source: "instrument" });
  const [read] = planned_swatches(id);
  expect(read?.swatch?.hair).toEqual({ level: 10, reading: { lab: [81, 1, 19], state: "dry" } });
  if (!read) throw new Error("it is still planned");
  await keep_reading(read, { lab: [64, 2, 12], bare: null, source: "eye" });
  expect(read_swatches(id).map(({ after }) => after?.lab)).toEqual([[64, 2, 12]]);
  expect(question_of(line())).toMatchObject({
    products: [{ id: tube }],
    swatches: [{ after: { minute: 12, where: "dried", source: "eye", lab: [64, 2, 12] } }],
  });
});

test("what was taught goes into new mixes, and one tap goes back to the label", async () => {
  const { id, tube, line } = await a_line();
  const shade = () => one("product", tube).value as NonNullable<ReturnType<typeof found>>;
  const found = () => one("product", tube).value;
  const by_its_label = by_label(line(), shade());
  const known = { dyes_sd: {}, rate_sd: 0.1, swatches: 4 };
  const learnt = { ...by_its_label, dyes: DYES, rate: 1.2, known };
  await put_in_force(line(), {
    products: [learnt],
    fits: [
      { id: "a", weight: 1, delta_e_left_out: 0.4 },
      { id: "b", weight: 0, delta_e_left_out: 9 },
    ],
    next_swatches: [],
    engine_version: "0123456789ab",
  } as unknown as CalibrationReply);
  expect(as_product(line(), shade())).toMatchObject({ dyes: DYES, rate: 1.2, known });
  expect(labelled(line())).toEqual([by_its_label]);
  const [kept] = all("calibration").value;
  expect(kept).toMatchObject({ swatches: ["a"], left_out: ["b"], error: 4.7 });
  expect(kept && is_of_all(kept)).toBe(false);

  await undo();
  expect(as_product(line(), shade())).toEqual(by_its_label);
  expect(all("calibration").value.filter(({ line: of }) => of === id)).toEqual([]);
});

test("going back to the label leaves the calibration to return to", async () => {
  const { id, line } = await a_line();
  const calibration = await create("calibration", { line: id, swatches: [], products: [] });
  await go_back(line(), calibration);
  expect(line().calibration).toBe(calibration);
  await go_back(line(), null);
  expect(line().calibration).toBeUndefined();
  expect(one("calibration", calibration).value).toBeDefined();
});

test("the developer is the leaflets' ratio at the lowest strength that all parts allow", async () => {
  const { line, tube } = await a_line();
  const mix = { parts: [{ product: tube, grams: 12 }], minutes: 12 };
  expect(developer_of(mix, labelled(line()))).toEqual({ percent: 1.9, grams: 18 });
  const named = { percent: 3, grams: 20 };
  expect(developer_of({ ...mix, developer: named }, labelled(line()))).toEqual(named);
});
