// The remaining numbers of the courier, each at its bound and one step to either side of it.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { paired_phone } from "../../tests/courier/one_phone";
import { problem, Salon } from "../../tests/courier/salon_model";
import type { Position } from "../outbox/position";
import { backoff_ms } from "./backoff";
import { Trouble } from "./call";
import type { Push } from "./push";
import { clock_warning, sending } from "./state";

let phone: Awaited<ReturnType<typeof paired_phone>>;
let salon: Salon;

beforeEach(async () => {
  salon = new Salon();
  vi.stubGlobal("fetch", salon.fetch);
  phone = await paired_phone();
});
afterEach(async () => {
  vi.unstubAllGlobals();
  await phone.close();
});

test.each([
  [300_000, false],
  [300_001, true],
  [-300_000, false],
  [-300_001, true],
])("a clock that is off by %i ms is said: %s", (clock_offset_ms, said) => {
  expect(clock_warning({ ...sending.peek(), clock_offset_ms }) !== undefined).toBe(said);
});

// 2 s doubled: the fifth is 32 s, the sixth would be 64; the eighth is 256 s, the ninth 512.
test.each([
  [5, true, 32_000],
  [6, true, 60_000],
  [8, false, 256_000],
  [9, false, 300_000],
])("after %i failures, shown %s, the wait is at most %i ms", (failures, shown, most_ms) => {
  expect(backoff_ms({ failures, shown }, 1)).toBe(most_ms);
});

test.each([
  [0.5, 1000],
  [0.49, 1000],
  [0.51, 1020],
])("the first wait by a chance of %f is %i ms", (chance, wait_ms) => {
  expect(backoff_ms({ failures: 1, shown: true }, chance)).toBe(wait_ms);
});

// The second wait would be 4 s, the third 8.
test.each([
  [2, 0, 3000],
  [3, 0, 3000],
  [9, 119_999, 3000],
  [9, 120_000, 3000],
  [9, 120_001, 60_000],
])(
  "after %i failures in %i ms without an answer, a page that is shown waits at most %i ms",
  (failures, lost_ms, most_ms) => {
    expect(backoff_ms({ failures, shown: true, lost_ms }, 1)).toBe(most_ms);
  },
);

test.each([
  [4, "tried again"],
  [5, "tried again"],
  [6, "given up"],
])("an exchange that fails %i times in ways it can mend is %s", async (failures, outcome) => {
  let left = failures;
  salon.instead = (path) =>
    path.endsWith("push") && left-- > 0 ? problem(409, "cursor_expired") : undefined;
  const ended = await phone.exchange().then(
    () => "tried again",
    (why) => (why.code === "cursor_expired" ? "given up" : String(why)),
  );
  expect(ended).toBe(outcome);
});

test("the fifth failure of a server that is well blames the batch, and no earlier one", async () => {
  await phone.notes(3);
  const sizes: number[] = [];
  salon.instead = (path, body) => {
    if (path === "/api/health") return new Response("{}");
    if (!path.endsWith("push")) return undefined;
    sizes.push((body as Push).ops.length);
    return problem(500, "");
  };
  for (let times = 0; times < 5; times += 1) await phone.exchange().catch(() => undefined);
  expect(sizes).toEqual([4, 4, 4, 4, 4, 2]);
});

test.each([
  [4, "acked_less"],
  [5, "nothing"],
  [6, "nothing"],
])("a page of a desk that has settled up to %i, and 5 here, tells %s", async (acked, told) => {
  const position = { ...(await phone.position()), acked_through: 5, cursor: "e1.0.x" } as Position;
  await phone.put_meta("post", position);
  const page = { changes: [], next: "e1.0.x", more: false, head_seq: 0, epoch: "e1", erased: [] };
  salon.instead = () => Response.json({ ...page, acked_through: acked });
  const { fetch_all } = await import("./pull");
  const here = await phone.caller();
  if (!here) throw new Error("not paired");
  const came = await fetch_all(here).then(
    () => "nothing",
    (why) => (why instanceof Trouble || why.needs ? why : String(why)),
  );
  if (told === "nothing") expect(came).toBe("nothing");
  else expect(came).toMatchObject({ code: told, needs: { acked_through: acked } });
});

test.each([
  [499, [499]],
  [500, [500]],
  [501, [500, 1]],
])("%i records of another history are offered by %j", async (count, offered) => {
  await phone.write_at_once(["base"], async (writing) => {
    for (let at = 0; at < count; at += 1) {
      const id = `${at}`;
      const state = { id, kind: "note", created: [], fields: {}, epoch: "e0" };
      await writing.objectStore("base").put(state as never, id);
    }
  });
  const sizes: number[] = [];
  salon.instead = (path, body) => {
    if (!path.endsWith("offer")) return undefined;
    sizes.push((body as { have: unknown[] }).have.length);
    return Response.json({ missing: [], erased: [] });
  };
  const { hand_back } = await import("./hand_back");
  const here = await phone.caller();
  if (here) await hand_back(here);
  expect(sizes).toEqual(offered);
});

test.each([
  [20_000, { ifAvailable: true }],
  [20_001, { steal: true }],
  [19_999, { ifAvailable: true }],
])("a leader that is silent for %i ms is asked for with %j", async (silent_ms, wanted) => {
  vi.useFakeTimers({ toFake: ["Date", "setInterval", "clearInterval"] });
  const asked: unknown[] = [];
  const request = async (_: string, options: unknown) => void asked.push(options);
  const kept = new Map([["basinside.1.courier_beat", JSON.stringify(Date.now() - silent_ms)]]);
  vi.stubGlobal("navigator", { locks: { request } });
  vi.stubGlobal("document", { hidden: false, addEventListener: () => undefined });
  vi.stubGlobal("localStorage", { getItem: (name: string) => kept.get(name) ?? null });
  const { lead } = await import("./lead");
  lead(async () => undefined);
  expect(asked).toEqual([wanted]);
  vi.useRealTimers();
});

test("a stream that is silent for 45 seconds is given up, and no earlier", async () => {
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  let say: (text: string) => void = () => undefined;
  vi.stubGlobal("fetch", async (_: string, { signal }: RequestInit) => {
    const stream = new ReadableStream<Uint8Array>({
      start(controller) {
        say = (text) => controller.enqueue(new TextEncoder().encode(text));
        signal?.addEventListener("abort", () => controller.error(signal.reason));
      },
    });
    return new Response(stream);
  });
  const { follow } = await import("./live");
  let ended = false;
  const settled = () => new Promise((done) => setImmediate(done));
  const following = follow(new AbortController().signal, async () => undefined).then(() => {
    ended = true;
  });
  for (let turns = 0; turns < 20; turns += 1) await settled();
  vi.advanceTimersByTime(44_999);
  say(": still here\n\n");
  for (let turns = 0; turns < 20; turns += 1) await settled();
  vi.advanceTimersByTime(44_999);
  for (let turns = 0; turns < 20; turns += 1) await settled();
  expect(ended).toBe(false);
  vi.advanceTimersByTime(1);
  await following;
  vi.useRealTimers();
});
