// A page that came in is kept with the place after it; what it lets go, and what it does to the clock.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { client_named, paired_phone } from "../../tests/courier/one_phone";
import { stamp_text } from "../outbox/clock";
import type { Position, Sent } from "../outbox/position";
import { put_sent, sent_in } from "../outbox/sent";

const NOW_MS = Date.parse("2026-11-25T10:00:00Z");
const DAY_MS = 86_400_000;
const OTHER = "00000000-0000-7000-8000-00000000000b";
const CLIENT = "00000000-0000-7000-8000-0000000000c1";

let phone: Awaited<ReturnType<typeof paired_phone>>;
let keep_page: typeof import("./page").keep_page;

beforeEach(async () => {
  vi.useFakeTimers({ now: NOW_MS, toFake: ["Date"] });
  phone = await paired_phone();
  ({ keep_page } = await import("./page"));
});
afterEach(async () => {
  await phone.close();
  vi.useRealTimers();
});

const here = async () => (await phone.position()) as Position;
const page = (eff = stamp_text({ at_ms: 1, counter: 0 }, OTHER)) => ({
  ...{ epoch: "e1", whole_to: 1 },
  changes: [client_named(CLIENT, "Ona Fictive", eff)],
});

test("a page is shown and kept with the place after it", async () => {
  const after = await keep_page(page(), await here(), { cursor: "e1.1.x" });
  expect(phone.one("client", CLIENT).value?.name).toBe("Ona Fictive");
  expect(after.cursor).toBe("e1.1.x");
  expect(await here()).toEqual(after);
});

test("a page asked for from a place that was left meanwhile is let go", async () => {
  const from = await here();
  await phone.put_meta("post", { ...from, cursor: "e1.5.x" });
  const after = await keep_page(page(), from, { cursor: "e1.1.x" });
  expect(after.cursor).toBe("e1.5.x");
  expect(await phone.rows("base")).toEqual([]);
});

test.each([
  ["a day ahead of this phone", NOW_MS + DAY_MS, 3, { at_ms: NOW_MS + DAY_MS, counter: 3 }],
  ["before what was written here", NOW_MS - DAY_MS, 3, undefined],
])("the clock after a write %s", async (_, at_ms, counter, moved) => {
  const before = (await phone.device()).clock;
  await keep_page(page(stamp_text({ at_ms, counter }, OTHER)), await here(), { cursor: "e1.1.x" });
  expect((await phone.device()).clock).toEqual(moved ?? before);
  await phone.create("note", { text: "written after it" });
  const stamp = (await phone.waiting()).at(-1)?.hlc ?? "";
  expect(stamp > stamp_text({ at_ms, counter }, OTHER)).toBe(true);
});

/** Keeps as sent, under its own row each, what was sent so long ago under these numbers. */
async function were_sent(rows: readonly { age_ms: number; seq: number }[]) {
  const { device_id } = await phone.device();
  await phone.write_at_once(["sent"], async (writing) => {
    for (const [at, { age_ms, seq }] of rows.entries()) {
      const device_seq = at + 1;
      const hlc = stamp_text({ at_ms: 1, counter: at }, device_id);
      const op = { op_id: `op ${at}`, device_seq, hlc, kind: "note.create", schema: 1, by: "" };
      const sent_at = new Date(NOW_MS - age_ms).toISOString();
      await put_sent(writing.objectStore("sent"), [{ op, seq, sent_at } as unknown as Sent]);
    }
  });
}
const still_here = async () =>
  (await phone.rows("sent")).flatMap(sent_in).map(({ op }) => op.device_seq);

// What was sent goes once it is older than 30 days and a verified backup holds it.
test.each([
  [{ age_ms: 30 * DAY_MS - 1000, seq: 8 }, [1]],
  [{ age_ms: 30 * DAY_MS, seq: 8 }, [1]],
  [{ age_ms: 30 * DAY_MS + 1000, seq: 8 }, []],
  [{ age_ms: 31 * DAY_MS, seq: 9 }, []],
  [{ age_ms: 31 * DAY_MS, seq: 10 }, [1]],
])("of what was sent %j, with a backup up to 9, there stays %j", async (row, stays) => {
  await were_sent([row]);
  await keep_page(page(), await here(), { cursor: "e1.10.x", safe_seq: 9 });
  expect(await still_here()).toEqual(stays);
});

test("records hold what was sent up to the first number that they do not", async () => {
  await were_sent([5, 6, 7, 8].map((seq) => ({ age_ms: 0, seq })));
  const at = async (cursor: string) =>
    (await keep_page(page(), await here(), { cursor })).covered_through;
  expect(await at("e1.4.x")).toBe(0);
  expect(await at("e1.5.x")).toBe(1);
  expect(await at("e1.7.x")).toBe(3);
  expect(await at("e1.9.x")).toBe(4);
});
