// Order, countdown, alarm, strip and result of a zone come from one prediction: the page's own
// records, clocks and questions, against the real server (tests/records/test_one_service.py starts
// it). SEEDS says which services: "0-99", or one again.
import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { Head } from "./head";

const [FIRST = 0, LAST = FIRST] = (process.env.SEEDS ?? "0").split("-").map(Number);
const STEPS = 10;

const count = {
  looks: 0,
  doubts: 0,
  rinsed_early: 0,
  repeats: 0,
  several: 0,
  waits: 0,
  weighed: 0,
  tubes: 0,
};

for (let seed = FIRST; seed <= LAST; seed += 1) {
  test(`seed ${seed}`, async () => {
    const head = new Head(seed, process.env.SERVER ?? "");
    await head.open();
    try {
      for (let step = 0; step < STEPS; step += 1) await head.step();
      await head.rinse_the_rest();
      await head.comes_again();
    } catch (why) {
      throw new Error(`seed ${seed}, after ${head.did.join(", ")}`, { cause: why });
    } finally {
      head.close();
    }
    for (const what of Object.keys(count) as (keyof typeof count)[]) {
      count[what] += head.count[what];
    }
  });
}

test("all that a service may come to was drawn, or this would prove little", () => {
  const services = LAST - FIRST + 1;
  if (services < 20) return;
  expect(count.looks).toBeGreaterThan(services);
  expect(count.doubts).toBeGreaterThan(services / 20);
  expect(count.rinsed_early).toBeGreaterThan(services / 10);
  expect(count.repeats).toBe(services);
  expect(count.several).toBeGreaterThan(services / 5);
  expect(count.waits).toBeGreaterThan(services);
  expect(count.weighed).toBeGreaterThan(services);
  // A tenth of the services has few looks in doubt, and may have no such answer.
  if (services >= 100) expect(count.tubes).toBeGreaterThan(services / 60);
});
