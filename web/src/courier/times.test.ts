// When the courier acts, and what it gives up: each number at its bound and one step to either side.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { paired_phone } from "../../tests/courier/one_phone";
import { problem, Salon } from "../../tests/courier/salon_model";

let phone: Awaited<ReturnType<typeof paired_phone>>;
let salon: Salon;
let asked: string[];
/** Answers in the salon's stead where it returns something. */
let instead: (path: string, body: unknown) => Response | undefined;
/** What the page was told to do when it is hidden or shown. */
let on_shown: () => void;
let page: { hidden: boolean; visibilityState: string };
/** What the page does at an event of its window. */
let on_event: Map<string, () => void>;

beforeEach(async () => {
  salon = new Salon();
  asked = [];
  instead = () => undefined;
  salon.instead = (path, body) => {
    asked.push(path);
    return instead(path, body);
  };
  vi.stubGlobal("fetch", salon.fetch);
  phone = await paired_phone();
  on_shown = () => undefined;
  page = { hidden: false, visibilityState: "visible" };
  const addEventListener = (_: string, act: () => void) => {
    on_shown = act;
  };
  vi.stubGlobal("document", Object.assign(page, { addEventListener }));
  on_event = new Map();
  vi.stubGlobal("addEventListener", (event: string, act: () => void) => on_event.set(event, act));
  vi.stubGlobal("navigator", {});
  vi.useFakeTimers({
    toFake: ["Date", "performance", "setTimeout", "clearTimeout", "setInterval", "clearInterval"],
  });
});
afterEach(async () => {
  page.hidden = true;
  on_shown();
  await settled();
  vi.useRealTimers();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
  await phone.close();
});

/** Lets everything go on that waits for no clock. */
async function settled(): Promise<void> {
  for (let turns = 0; turns < 300; turns += 1) await new Promise((done) => setImmediate(done));
}

/** Waits until something has happened that waits for no clock; a busy machine is given time. */
async function until(happened: () => boolean): Promise<void> {
  while (!happened()) await new Promise((done) => setImmediate(done));
  await settled();
}

async function pass(ms: number): Promise<void> {
  vi.advanceTimersByTime(ms);
  await settled();
}

const times = (path: string) => asked.filter((one) => one === path).length;
const LIVE = "/api/sync/live";
const PULL = "/api/sync/pull";
const PUSH = "/api/sync/push";
const HEALTH = "/api/health";

async function started(): Promise<void> {
  const { start } = await import("./run");
  start();
  await until(() => times(PULL) > 0 && times(LIVE) > 0);
  // What was written when the page opened.
  await pass(200);
}

describe("the exchange", () => {
  test("goes out 200 ms after a write, and no earlier", async () => {
    await started();
    const before = times(PUSH);
    await phone.create("note", { text: "a tap" });
    await settled();
    await pass(199);
    expect(times(PUSH)).toBe(before);
    await pass(1);
    expect(times(PUSH)).toBe(before + 1);
  });

  test("comes every three seconds without the stream, and no earlier", async () => {
    await started();
    const before = times(PULL);
    await pass(2999);
    expect(times(PULL)).toBe(before);
    await pass(1);
    expect(times(PULL)).toBe(before + 1);
    await pass(2999);
    expect(times(PULL)).toBe(before + 1);
    await pass(1);
    expect(times(PULL)).toBe(before + 2);
  });

  test("comes every minute beside the stream, and no earlier", async () => {
    let say: (text: string) => void = () => undefined;
    vi.stubGlobal("fetch", async (address: string, request: RequestInit = {}) => {
      if (!address.includes(LIVE)) return salon.fetch(address, request);
      asked.push(LIVE);
      const stream = new ReadableStream<Uint8Array>({
        start(controller) {
          say = (text) => controller.enqueue(new TextEncoder().encode(text));
          request.signal?.addEventListener("abort", () => controller.error(request.signal?.reason));
        },
      });
      return new Response(stream);
    });
    await started();
    const before = times(PULL);
    for (let waited_ms = 0; waited_ms < 40_000; waited_ms += 20_000) {
      await pass(20_000);
      say(": hb\n\n");
      await settled();
    }
    await pass(19_999);
    expect(times(PULL)).toBe(before);
    await pass(1);
    expect(times(PULL)).toBe(before + 1);
  });
});

describe("a desk that", () => {
  /** Counts the tries: a desk that was lost is first asked whether it is there. */
  const tries = () => times(PULL) + times(HEALTH);

  /** Passes this long in seconds, and returns how many seconds lie between the tries in it. */
  async function between_tries(seconds: number): Promise<number[]> {
    const gaps_s: number[] = [];
    for (let second = 0, last = -1; second < seconds; second += 1) {
      const before = tries();
      await pass(1000);
      if (tries() === before) continue;
      if (last >= 0) gaps_s.push(second - last);
      last = second;
    }
    return gaps_s;
  }

  beforeEach(() => {
    vi.spyOn(Math, "random").mockReturnValue(1);
  });

  test("does not answer is asked every 3 s at least for two minutes, then every minute", async () => {
    await started();
    instead = () => {
      throw new TypeError("Failed to fetch");
    };
    const gaps_s = await between_tries(310);
    // The 42nd failure comes 122 s after the first.
    expect(gaps_s).toEqual([2, ...Array(40).fill(3), 60, 60, 60]);
  });

  test("takes the call and says nothing is given up after four seconds, and asked again", async () => {
    await started();
    const limits_s: number[] = [];
    vi.spyOn(AbortSignal, "timeout").mockImplementation((ms) => {
      const ending = new AbortController();
      limits_s.push(ms / 1000);
      setTimeout(() => ending.abort(new DOMException("late", "TimeoutError")), ms);
      return ending.signal;
    });
    const silent = (address: string, { signal }: RequestInit = {}) => {
      asked.push(address.replace(/[?].*/, ""));
      return new Promise<Response>((_, fail) => {
        signal?.addEventListener("abort", () => fail(signal.reason));
      });
    };
    vi.stubGlobal("fetch", silent);
    const gaps_s = await between_tries(80);
    // The first pull did not know that the desk is lost, and has a call's whole time.
    expect(limits_s.slice(0, 4)).toEqual([30, 4, 4, 4]);
    // Four seconds, and the second that this test's clock passes before the next try.
    expect(gaps_s).toEqual([32, ...Array(9).fill(5)]);
  });

  test.each(["click", "online"])("does not answer is asked at once at %s", async (event) => {
    await started();
    instead = () => {
      throw new TypeError("Failed to fetch");
    };
    await between_tries(130);
    const before = tries();
    on_event.get(event)?.();
    await settled();
    expect(tries()).toBe(before + 1);
  });

  test("answers is not asked again for a tap, whether it takes or refuses", async () => {
    await started();
    for (const status of [200, 500]) {
      instead = (path) => (path === PULL && status === 500 ? problem(500, "") : undefined);
      await pass(3000);
      const before = times(PULL);
      on_event.get("click")?.();
      await settled();
      expect(times(PULL)).toBe(before);
    }
  });

  test("answers, and refuses, is asked ever less often", async () => {
    await started();
    instead = (path) => (path === PULL ? problem(500, "") : undefined);
    expect(await between_tries(130)).toEqual([2, 4, 8, 16, 32, 60]);
  });
});

describe("the window that leads", () => {
  test("beats every five seconds, and looks as often whether it may lead", async () => {
    const kept: string[] = [];
    const setItem = (name: string) => void kept.push(name);
    vi.stubGlobal("localStorage", { getItem: () => null, setItem });
    const { lead } = await import("./lead");
    lead((stop) => new Promise((done) => stop.addEventListener("abort", () => done())));
    await settled();
    const beats = () => kept.filter((name) => name.endsWith("courier_beat")).length;
    expect(beats()).toBe(1);
    await pass(4999);
    expect(beats()).toBe(1);
    await pass(1);
    expect(beats()).toBe(2);
  });

  test("leads again at once when it was hidden and shown before its last exchange ended", async () => {
    const { lead } = await import("./lead");
    let begun = 0;
    let end: () => void = () => undefined;
    lead(() => {
      begun += 1;
      return new Promise((done) => {
        end = done;
      });
    });
    await settled();
    page.hidden = true;
    on_shown();
    page.hidden = false;
    on_shown();
    await settled();
    expect(begun).toBe(1);
    end();
    await settled();
    expect(begun).toBe(2);
    end();
  });

  test("is asked for again every five seconds by a window that may not lead", async () => {
    let requests = 0;
    const request = async () => {
      requests += 1;
    };
    vi.stubGlobal("navigator", { locks: { request } });
    const { lead } = await import("./lead");
    lead(async () => undefined);
    await settled();
    expect(requests).toBe(1);
    await pass(4999);
    expect(requests).toBe(1);
    await pass(1);
    expect(requests).toBe(2);
  });
});

test("the desk's matters are asked for again after half a minute, and no earlier", async () => {
  instead = () => Response.json({ matters: [], next: null });
  const { follow_matters } = await import("./matters");
  const stop = follow_matters();
  await until(() => times("/api/matters") > 0);
  expect(times("/api/matters")).toBe(1);
  await pass(29_999);
  expect(times("/api/matters")).toBe(1);
  await pass(1);
  expect(times("/api/matters")).toBe(2);
  stop();
  await pass(30_000);
  expect(times("/api/matters")).toBe(2);
});

test("a file is given five minutes, and no more", async () => {
  vi.spyOn(AbortSignal, "timeout").mockImplementation((ms) => {
    const ending = new AbortController();
    setTimeout(() => ending.abort(new DOMException("", "TimeoutError")), ms);
    return ending.signal;
  });
  const fetch = (_: string, { signal }: RequestInit) => {
    asked.push("file");
    return new Promise((_done, fail) =>
      signal?.addEventListener("abort", () => fail(signal.reason)),
    );
  };
  vi.stubGlobal("fetch", fetch);
  const { bring_in_at_the_server } = await import("./bring_in");
  let outcome = "waits";
  bring_in_at_the_server(new File(["x"], "a.gz"), "").catch((why) => {
    outcome = why.code;
  });
  await until(() => times("file") > 0);
  await pass(299_999);
  expect(outcome).toBe("waits");
  await pass(1);
  expect(outcome).toBe("no_answer");
});

describe("a photo", () => {
  /** Keeps photos of these sizes, which the desk lacks, and returns what it is sent. */
  async function lacking(...sizes: number[]): Promise<string[]> {
    const { keep_blob } = await import("../outbox/photos");
    const missing: string[] = [];
    for (const size of sizes) {
      const bytes = Uint8Array.from({ length: size }, (_, at) => at % 251);
      missing.push(await keep_blob(new Blob([bytes], { type: "image/jpeg" })));
    }
    const sent: string[] = [];
    instead = (path, body) => {
      if (path.endsWith("missing")) return Response.json({ missing, next: null });
      if (!path.endsWith("photos")) return undefined;
      sent.push((body as { bytes: string }).bytes);
      return Response.json({});
    };
    return sent;
  }

  test.each([8191, 8192, 8193])("of %i bytes goes out whole", async (size) => {
    const sent = await lacking(size);
    expect(await phone.send_photos()).toBe(1);
    const bytes = Buffer.from(sent[0] ?? "", "base64");
    expect(bytes.length).toBe(size);
    expect(bytes.every((byte, at) => byte === at % 251)).toBe(true);
  });

  test.each([
    [400, "is left, and the others go on"],
    [401, "holds the others back"],
    [412, "holds the others back"],
    [413, "is left, and the others go on"],
    [414, "holds the others back"],
    [421, "holds the others back"],
    [422, "is left, and the others go on"],
    [423, "holds the others back"],
    [500, "holds the others back"],
  ])("that the desk refuses with %i %s", async (status, outcome) => {
    await lacking(10, 20);
    const lacks = instead;
    let refusals = 1;
    instead = (path, body) =>
      path.endsWith("photos") && refusals-- > 0 ? problem(status, "other") : lacks(path, body);
    const goes_on = outcome.startsWith("is left");
    const sent = await phone.send_photos().catch((why: unknown) => why);
    if (goes_on) expect(sent).toBe(1);
    else expect(sent).toMatchObject({ status });
    expect(times("/api/sync/photos")).toBe(goes_on ? 2 : 1);
  });
});
