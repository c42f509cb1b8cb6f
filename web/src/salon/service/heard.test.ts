import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { open_phone } from "../../../tests/courier/phones";
import { Salon } from "../../../tests/courier/salon_model";
import { type Moment, moments_due, moments_of } from "./moments";
import type { Running } from "./running";

const MINUTE_MS = 60_000;
const BEGAN_MS = Date.UTC(2026, 10, 30, 10);

/** The clock of a zone as each phone reads it; `moved_min` is how far its own clock was moved. */
const clock_of = (zone: string, moved_min = 0): Running => ({
  ...{ zone, service: "s", client_name: "Wren", zone_name: "roots", is_on: true },
  began_ms: BEGAN_MS + moved_min * MINUTE_MS,
  most_ms: BEGAN_MS + (20 + moved_min) * MINUTE_MS,
  ...(moved_min !== 0 && { moved_ms: moved_min * MINUTE_MS }),
  window: { earliest: 7, best: 10, latest: 12 },
  due: { is: "from", words: "", at_ms: 0, last: false },
});

async function open() {
  const phone = await open_phone();
  await phone.pair();
  return { ...phone, ...(await import("./heard")) };
}

type Opened = Awaited<ReturnType<typeof open>>;
let ana: Opened;
let ben: Opened;
let zone: string;

beforeEach(async () => {
  vi.stubGlobal("fetch", new Salon().fetch);
  ana = await open();
  ben = await open();
  zone = await ana.create("zone", { name: "roots" });
  await settle();
});
afterEach(async () => {
  vi.unstubAllGlobals();
  await Promise.all([ana.close(), ben.close()]);
});

async function settle() {
  for (const phone of [ana, ben, ana]) await phone.exchange();
}

/** What rings on a phone at a minute of the zone. */
function rings(phone: Opened, minute: number, moved_min = 0): Moment[] {
  const at_ms = BEGAN_MS + (minute + moved_min) * MINUTE_MS;
  return moments_due([clock_of(zone, moved_min)], phone.keys_heard([zone]), at_ms);
}

test("what one phone heard is silent on the other once both have exchanged", async () => {
  expect(rings(ben, 8)).toHaveLength(1);
  await ana.keep_heard(rings(ana, 8));
  expect(rings(ana, 8)).toEqual([]);
  expect(rings(ben, 8)).toHaveLength(1);
  await settle();
  expect(rings(ben, 8)).toEqual([]);
  const heard = Object.entries(ben.one("zone", zone).value?.heard ?? {});
  expect(heard).toEqual([
    ["from 2026-11-30T10:07:00Z", { at: expect.stringMatching(/^2/), by: expect.any(String) }],
  ]);
  expect(heard[0]?.[1].by).toBe(ana.device_here.value);
});

test("an older alarm that arrives late as heard does not silence the one that rings", async () => {
  await ana.keep_heard(rings(ana, 8));
  expect(rings(ben, 13).map(({ words }) => words)).toEqual(["Wren, roots: rinse now"]);
  await settle();
  expect(rings(ben, 13).map(({ words }) => words)).toEqual(["Wren, roots: rinse now"]);
  await ben.keep_heard(rings(ben, 13));
  await settle();
  expect(rings(ana, 13)).toEqual([]);
  expect(Object.keys(ana.one("zone", zone).value?.heard ?? {})).toHaveLength(2);
});

test("two that hear the same apart make nothing that somebody has to settle", async () => {
  await ana.keep_heard(rings(ana, 8));
  await ben.keep_heard(rings(ben, 8));
  await settle();
  expect([rings(ana, 8), rings(ben, 8)]).toEqual([[], []]);
  expect(ana.everything_to_look_at.value).toEqual([]);
});

test("a phone whose clock was set back knows the same alarm", async () => {
  await ana.keep_heard(rings(ana, 8, -60));
  await settle();
  expect(rings(ben, 8)).toEqual([]);
});

test("hearing is no act to take back, and is written once", async () => {
  const moments = rings(ana, 8);
  const before = ana.last_act.value;
  await ana.keep_heard(moments);
  const waiting = (await ana.rows("outbox")).length;
  await ana.keep_heard(moments);
  expect(await ana.rows("outbox")).toHaveLength(waiting);
  expect(ana.last_act.value).toEqual(before);
});

test("a test that is due is heard on every phone, under the time it was due", async () => {
  const alert_test = await ana.create("alert_test", { line: "Cobble" });
  await settle();
  await ben.keep_test_heard(alert_test, "read 2026-11-30T10:00:00Z");
  await settle();
  const heard = ana.one("alert_test", alert_test).value?.heard;
  expect(Object.keys(heard ?? {})).toEqual(["read 2026-11-30T10:00:00Z"]);
});

test("a zone that is gone takes no word of an alarm", async () => {
  const [moment] = moments_of(clock_of("gone"));
  await ana.keep_heard(moment ? [moment] : []);
  expect(await ana.rows("outbox")).toEqual([]);
});
