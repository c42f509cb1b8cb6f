// A server and an engine that is on its way are both asked: which answer counts, and when.
import { createServer, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { NoAnswer, Refused } from "../api/client";
import { ask } from "./ask";
import { device, start } from "./device";
import type { FromWorker, ToWorker } from "./worker";

/** What a browser gives in a worker's place: hears what it is told, and says what the test says. */
class Told {
  static last: Told;
  readonly heard: ToWorker[] = [];
  private hear: (event: { data: FromWorker }) => void = () => {};

  constructor() {
    Told.last = this;
  }
  addEventListener(kind: string, hear: (event: { data: FromWorker }) => void): void {
    if (kind === "message") this.hear = hear;
  }
  postMessage(message: ToWorker): void {
    this.heard.push(message);
  }
  terminate(): void {}
  say(data: FromWorker): void {
    this.hear({ data });
  }
  answer(status: number, body: unknown): void {
    const asked = this.heard.at(-1);
    if (asked && "id" in asked) this.say({ id: asked.id, status, body: JSON.stringify(body) });
  }
}

const page_fetch = globalThis.fetch;
const QUESTION = {
  hair: { level: 10 },
  mix: { parts: [], minutes: 3 },
  products: [],
  minutes: [3],
};
let server: Server;
let held: ServerResponse[];

beforeEach(async () => {
  held = [];
  vi.stubGlobal("Worker", Told);
  server = createServer((request, response) => {
    if (request.url === "/engine.json") response.end(JSON.stringify({ engine_version: "1" }));
    else held.push(response);
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  globalThis.fetch = (path, init) => page_fetch(`http://127.0.0.1:${port}${path}`, init);
  device.value = { state: "resting" };
  await start();
});

afterEach(async () => {
  vi.unstubAllGlobals();
  globalThis.fetch = page_fetch;
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
});

async function until(true_at_last: () => boolean): Promise<void> {
  while (!true_at_last()) await new Promise((later) => setTimeout(later, 2));
}

const asked_here = () => Told.last.heard.some((told) => "id" in told);

function reply(from: string) {
  return { strip: [], window: { reason: from }, engine_version: "1" };
}

function from_server(status: number, body: unknown): void {
  held[0]?.writeHead(status, { "content-type": "application/json" });
  held[0]?.end(JSON.stringify(body));
}

test("a server that hangs costs no more than the phone's own time, and is hung up on", async () => {
  const answer = ask("predictions", QUESTION);
  await until(() => held.length === 1);
  Told.last.say({ state: "ready", kept: true });
  await until(asked_here);
  Told.last.answer(200, reply("phone"));
  expect(await answer).toMatchObject({ worked_out: "device", reply: reply("phone") });
  await until(() => held[0]?.destroyed === true);
});

test("a server that answers first is not kept waiting by an engine that still loads", async () => {
  const answer = ask("predictions", QUESTION);
  await until(() => held.length === 1);
  from_server(200, reply("server"));
  expect(await answer).toMatchObject({ worked_out: "server" });
  expect(asked_here()).toBe(false);
});

test("an engine that fails leaves the answer to the server", async () => {
  const answer = ask("predictions", QUESTION);
  await until(() => held.length === 1);
  Told.last.say({ state: "failed", why: "It broke.", by_itself: false });
  from_server(200, reply("server"));
  expect(await answer).toMatchObject({ worked_out: "server" });
});

test("a server that fails leaves the answer to the engine, once it is there", async () => {
  const answer = ask("predictions", QUESTION);
  await until(() => held.length === 1);
  from_server(500, { detail: "The fault is on our side.", errors: [] });
  Told.last.say({ state: "ready", kept: true });
  await until(asked_here);
  Told.last.answer(200, reply("phone"));
  expect(await answer).toMatchObject({ worked_out: "device" });
});

test("the server refuses first, and its refusal ends the question", async () => {
  const refused = ask("predictions", QUESTION).catch((why: unknown) => why);
  await until(() => held.length === 1);
  from_server(422, { type: "", title: "", status: 422, detail: "Look again.", errors: [] });
  expect(await refused).toBeInstanceOf(Refused);
});

test("where both fail, the words say both", async () => {
  const failed = ask("predictions", QUESTION).catch((why: unknown) => why);
  await until(() => held.length === 1);
  from_server(500, { detail: "The fault is on our side.", errors: [] });
  Told.last.say({ state: "failed", why: "It broke.", by_itself: false });
  const why = await failed;
  expect(why).toBeInstanceOf(NoAnswer);
  expect((why as Error).message).toMatch(/It broke\.$/);
});

test("a question that is given up is given up by both", async () => {
  const abort = new AbortController();
  const given_up = ask("predictions", QUESTION, { signal: abort.signal });
  await until(() => held.length === 1);
  abort.abort(new Error("not wanted"));
  await expect(given_up).rejects.toThrow("not wanted");
  await until(() => held[0]?.destroyed === true);
});
