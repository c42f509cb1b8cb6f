// Against a real server on this machine: what it answers, when, and what it never hears of.
import { createServer, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, beforeEach, expect, test } from "vitest";
import { NoAnswer, Refused } from "../api/client";
import { ask } from "./ask";
import { open_question } from "./question";

interface Heard {
  minutes: number[];
  answer: (status?: number, body?: unknown) => void;
  closed: boolean;
}

const page_fetch = globalThis.fetch;
let server: Server;
let heard: Heard[];

beforeEach(async () => {
  heard = [];
  server = createServer((request, response) => {
    let text = "";
    request.on("data", (piece) => {
      text += piece;
    });
    request.on("end", () => {
      const one: Heard = {
        minutes: JSON.parse(text).minutes,
        closed: false,
        answer: (status = 200, body = reply(one.minutes)) => send(response, status, body),
      };
      response.on("close", () => {
        one.closed = !response.writableEnded;
      });
      heard.push(one);
    });
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  // In a browser the page's own address stands before the path.
  globalThis.fetch = (path, init) => page_fetch(`http://127.0.0.1:${port}${path}`, init);
});

afterEach(async () => {
  globalThis.fetch = page_fetch;
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
});

function send(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { "content-type": "application/json" });
  response.end(typeof body === "string" ? body : JSON.stringify(body));
}

function question(minute: number) {
  return {
    hair: { level: 10 },
    mix: { parts: [{ product: "a", grams: 40 }], minutes: minute },
    products: [],
    minutes: [minute],
  };
}

function reply(minutes: number[]) {
  return { strip: [], window: { reason: `asked for ${minutes}` }, engine_version: "1" };
}

async function until(true_at_last: () => boolean): Promise<void> {
  while (!true_at_last()) await new Promise((later) => setTimeout(later, 2));
}

test("an answer says that the server worked it out", async () => {
  const answer = ask("predictions", question(3));
  await until(() => heard.length === 1);
  heard[0]?.answer();
  expect(await answer).toMatchObject({ worked_out: "server", reply: reply([3]) });
});

test("questions are asked one at a time, in the order they were put", async () => {
  const answers = [1, 2, 3].map((minute) => ask("predictions", question(minute)));
  for (const minute of [1, 2, 3]) {
    await until(() => heard.length === minute);
    expect(heard.map(({ minutes }) => minutes[0])).toEqual([1, 2, 3].slice(0, minute));
    heard[minute - 1]?.answer();
  }
  await Promise.all(answers);
});

test("a question aborted while it waits is never asked", async () => {
  const abort = new AbortController();
  const first = ask("predictions", question(1));
  const second = ask("predictions", question(2), { signal: abort.signal });
  const third = ask("predictions", question(3));
  abort.abort(new Error("not wanted"));
  await expect(second).rejects.toThrow("not wanted");
  await until(() => heard.length === 1);
  heard[0]?.answer();
  await first;
  await until(() => heard.length === 2);
  expect(heard[1]?.minutes).toEqual([3]);
  heard[1]?.answer();
  await third;
});

test("a question aborted while it is worked out is hung up on, and the next is asked", async () => {
  const abort = new AbortController();
  const first = ask("predictions", question(1), { signal: abort.signal });
  const second = ask("predictions", question(2));
  await until(() => heard.length === 1);
  abort.abort(new Error("not wanted"));
  await expect(first).rejects.toThrow("not wanted");
  await until(() => heard.length === 2 && heard[0]?.closed === true);
  heard[1]?.answer();
  expect((await second).reply).toEqual(reply([2]));
});

test("a server that does not answer in time is given up with a reason, and the next is asked", async () => {
  const late = ask("predictions", question(1), { longest_wait_ms: 30 });
  const next = ask("predictions", question(2));
  await expect(late).rejects.toThrow(/server is slow.*kept on this phone/);
  await until(() => heard.length === 2);
  heard[1]?.answer();
  await next;
});

test("a refusal carries the places it names", async () => {
  const refused = ask("predictions", question(1));
  await until(() => heard.length === 1);
  const errors = [{ pointer: "/hair/level", message: "Expected 1 to 10.5; got 12." }];
  heard[0]?.answer(422, { type: "", title: "", status: 422, detail: "Look again.", errors });
  const why = await refused.catch((thrown: unknown) => thrown);
  expect(why).toBeInstanceOf(Refused);
  expect(why).toMatchObject({ message: "Look again.", faults: errors });
});

test.each([
  [500, { detail: "The fault is on our side.", errors: [] }],
  [502, "<html>a proxy speaks</html>"],
  [200, "<html>a hotel asks for a room number</html>"],
])("a reply of %i that is no answer is said to be none", async (status, body) => {
  const answer = ask("predictions", question(1));
  await until(() => heard.length === 1);
  heard[0]?.answer(status, body);
  await expect(answer).rejects.toBeInstanceOf(NoAnswer);
});

test("a server that is not there is said not to answer", async () => {
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
  await expect(ask("predictions", question(1))).rejects.toThrow(/does not answer/);
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
});

test("a question asked again never shows the answer to what was asked before", async () => {
  const minutes = open_question("predictions");
  const shown: string[] = [];
  minutes.asked.subscribe((asked) => {
    shown.push(asked.state === "answered" ? JSON.stringify(asked.request.minutes) : asked.state);
  });
  minutes.put(question(1));
  await until(() => heard.length === 1);
  minutes.put(question(2));
  heard[0]?.answer();
  await until(() => heard.length === 2);
  heard[1]?.answer();
  await until(() => minutes.asked.value.state === "answered");
  expect(shown).toEqual(["nothing", "working", "working", "[2]"]);
});

test("a question asked the same again keeps its answer and asks nobody", async () => {
  const minutes = open_question("predictions");
  minutes.put(question(1));
  minutes.put(question(1));
  await until(() => heard.length === 1);
  heard[0]?.answer();
  await until(() => minutes.asked.value.state === "answered");
  minutes.put(question(1));
  expect(minutes.asked.value.state).toBe("answered");
  expect(heard).toHaveLength(1);
});

test("a question that failed asks again with the same question", async () => {
  const minutes = open_question("predictions");
  minutes.put(question(4));
  await until(() => heard.length === 1);
  heard[0]?.answer(503, "busy");
  await until(() => minutes.asked.value.state === "failed");
  minutes.again();
  await until(() => heard.length === 2);
  heard[1]?.answer();
  await until(() => minutes.asked.value.state === "answered");
  expect(heard[1]?.minutes).toEqual([4]);
});
