// No order of answers, failures and taps opens a service without an answer of the rules to what is
// on record now: the page's own records, gate and way to a calculation, against the real server
// (tests/records/test_gate_walks.py starts it). SEEDS says which: "0-99", or one again.
import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { Salon } from "./salon";

const [FIRST = 0, LAST = FIRST] = (process.env.SEEDS ?? "0").split("-").map(Number);
const STEPS = 25;
const RUNS = Number(process.env.RUNS ?? 2);
const ENOUGH_TO_TELL = 40;

const EACH = ["begun", "refused", "opened", "brought"] as const;
const count = { begun: 0, refused: 0, opened: 0, brought: 0 };

async function walked(seed: number): Promise<Salon> {
  const salon = new Salon(seed, process.env.SERVER ?? "");
  await salon.open();
  try {
    for (let step = 0; step < STEPS; step += 1) await salon.step();
    await salon.nothing_blocks_the_end();
  } catch (why) {
    throw new Error(`after ${salon.did.join(", ")}`, { cause: why });
  } finally {
    salon.close();
  }
  return salon;
}

for (let seed = FIRST; seed <= LAST; seed += 1) {
  test(`seed ${seed}`, async () => {
    const salon = await walked(seed);
    for (const each of EACH) count[each] += salon.count[each];
  });
}

test("one seed gives one history", async () => {
  const told = (await walked(FIRST)).history();
  expect(told.length).toBeGreaterThan(1000);
  for (let run = 2; run <= RUNS; run += 1) {
    expect((await walked(FIRST)).history(), `run ${run}`).toBe(told);
  }
});

test("some services began and some taps were refused, or this would prove little", () => {
  const walks = LAST - FIRST + 1;
  if (walks < ENOUGH_TO_TELL) return;
  expect(count.begun).toBeGreaterThan(walks / 10);
  expect(count.refused).toBeGreaterThan(walks / 2);
  expect(count.opened).toBeGreaterThan(walks / 10);
  expect(count.brought).toBeGreaterThan(walks / 4);
});
