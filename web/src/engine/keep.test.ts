// Against a real server on this machine: which pieces are fetched, how many at once, how whole.
import { createHash } from "node:crypto";
import { createServer, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { BrokenOff } from "./fetch_piece";
import { files_of, type Here } from "./keep";
import type { Pack } from "./pack";

const CONTENTS = ["one", "two", "three", "four"].map((name) => Buffer.from(name.repeat(1000)));
const PACK: Pack = {
  folder: "/assets/engine-1/",
  engine_version: "1",
  files: [
    {
      name: "all",
      pieces: CONTENTS.map((content, place) => ({
        name: `all.${place}`,
        bytes: content.length,
        sent_bytes: content.length / 2,
        sha256: createHash("sha256").update(content).digest("hex"),
      })),
    },
  ],
  lock: {},
  self_test: [],
};

interface Asked {
  place: number;
  past_caches: boolean;
  response: ServerResponse;
}

const page_fetch = globalThis.fetch;
let server: Server;
let waiting: Asked[];
let asked: number;

beforeEach(async () => {
  waiting = [];
  asked = 0;
  server = createServer((request, response) => {
    asked += 1;
    waiting.push({
      place: Number(request.url?.split(".").at(-1)),
      past_caches: request.headers["cache-control"] === "no-cache",
      response,
    });
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  globalThis.fetch = (path, init) => page_fetch(`http://127.0.0.1:${port}${path}`, init);
});

afterEach(async () => {
  vi.restoreAllMocks();
  globalThis.fetch = page_fetch;
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
});

async function next(count: number): Promise<Asked[]> {
  while (waiting.length < count) await new Promise((later) => setTimeout(later, 2));
  return waiting.splice(0, count);
}

/** Long enough that another request would have come, had one been on its way. */
const a_moment = () => new Promise((later) => setTimeout(later, 50));

function send({ place, response }: Asked, content = CONTENTS[place] as Buffer): void {
  response.end(content);
}

function spoilt(place: number): Buffer {
  const content = Buffer.from(CONTENTS[place] as Buffer);
  content[17] = (content[17] as number) ^ 1;
  return content;
}

test("a quick link brings three pieces at once, and the file is whole", async () => {
  const come = files_of(PACK, () => {});
  for (const one of await next(1)) send(one);
  for (const one of await next(3)) send(one);
  const { files } = await come;
  expect(await files.get("all")?.text()).toBe(Buffer.concat(CONTENTS).toString());
});

test("a slow link brings one piece at a time", async () => {
  let now_ms = 0;
  vi.spyOn(performance, "now").mockImplementation(() => now_ms);
  const come = files_of(PACK, () => {});
  for (const count of [1, 2, 3, 4]) {
    const [one] = await next(1);
    await a_moment();
    expect(asked).toBe(count);
    now_ms += 6_000;
    send(one as Asked);
  }
  await come;
});

test("bytes are told as they come, and all of them at the end", async () => {
  const told: Here[] = [];
  const come = files_of(PACK, (here) => told.push(here));
  const [first] = await next(1);
  first?.response.write(CONTENTS[0]?.subarray(0, 1000));
  while (told.length === 0) await a_moment();
  expect(told[0]).toEqual({ bytes: 500, fetches: true, damaged: false });
  first?.response.end(CONTENTS[0]?.subarray(1000));
  for (const one of await next(3)) send(one);
  await come;
  const all = CONTENTS.reduce((sum, { length }) => sum + length / 2, 0);
  expect(told.at(-1)?.bytes).toBe(all);
});

test("a piece that arrives damaged is fetched once more, past every cache", async () => {
  const come = files_of(PACK, () => {});
  const [first] = await next(1);
  expect(first?.past_caches).toBe(false);
  send(first as Asked, spoilt(0));
  const [again] = await next(1);
  expect(again).toMatchObject({ place: 0, past_caches: true });
  send(again as Asked);
  for (const one of await next(3)) send(one);
  expect((await come).files.get("all")?.size).toBe(Buffer.concat(CONTENTS).length);
});

test("one that is damaged twice is not used, and the next try may bring it", async () => {
  const come = files_of(PACK, () => {}).catch((why: unknown) => why);
  for (let time = 0; time < 2; time += 1) {
    for (const one of await next(1)) send(one, spoilt(0));
  }
  const why = await come;
  expect(why).toBeInstanceOf(BrokenOff);
  expect((why as Error).message).toMatch(/damaged/);
});

test("one that was cut short is said to be interrupted", async () => {
  const come = files_of(PACK, () => {}).catch((why: unknown) => why);
  for (const one of await next(1)) send(one, CONTENTS[0]?.subarray(0, 10));
  const why = await come;
  expect(why).toBeInstanceOf(BrokenOff);
  expect((why as Error).message).toMatch(/interrupted/);
});

test("a missing file is no matter of another try", async () => {
  const come = files_of(PACK, () => {}).catch((why: unknown) => why);
  for (const { response } of await next(1)) response.writeHead(404).end();
  const why = await come;
  expect(why).not.toBeInstanceOf(BrokenOff);
  expect((why as Error).message).toMatch(/missing/);
});
