// A call to the salon's server: how it is packed, how long it may take, what its failures say.
import { gunzipSync, gzipSync } from "node:zlib";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { call, reach, server_is_well, Trouble } from "./call";

let sent: { headers: Record<string, string>; body: Uint8Array }[];
let reply: () => Response;

beforeEach(() => {
  sent = [];
  reply = () => Response.json({ ok: true });
  vi.stubGlobal("fetch", async (_: string, request: RequestInit) => {
    const { headers, body } = request as { headers: Record<string, string>; body: Uint8Array };
    sent.push({ headers, body });
    return reply();
  });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

const is_packed = async (json: string) => {
  await call("/api/x", { json });
  const { headers, body } = sent.at(-1) ?? { headers: {}, body: new Uint8Array() };
  const packed = headers["content-encoding"] === "gzip";
  const text = new TextDecoder().decode(packed ? gunzipSync(body) : body);
  expect(text).toBe(json);
  return packed;
};

/** Text that packs badly, always the same (Park & Miller 1988, a = 48271). */
function varied(length: number): string {
  let state = 1;
  let text = "";
  while (text.length < length) {
    state = (state * 48271) % 2147483647;
    text += String.fromCharCode(97 + (state % 26));
  }
  return text;
}

test.each([
  [1023, false],
  [1024, true],
  [1025, true],
])("a body of %i bytes is packed: %s", async (length, packed) => {
  expect(await is_packed(varied(length))).toBe(packed);
});

test("a body that unpacks to more than 40 times its size goes as it is", async () => {
  // The server takes 50 times. Equal letters, one more at a time, pass from below 40 to above.
  const packed_bytes = (length: number) => gzipSync("a".repeat(length)).length;
  let length = 1024;
  while (length + 1 <= packed_bytes(length + 1) * 40) length += 1;
  expect(await is_packed("a".repeat(length))).toBe(true);
  expect(await is_packed("a".repeat(length + 1))).toBe(false);
});

test("a call is given 30 seconds", async () => {
  const timeout = vi.spyOn(AbortSignal, "timeout");
  await call("/api/x");
  expect(timeout.mock.calls).toEqual([[30_000]]);
});

test("a refusal says what the server said of it", async () => {
  const body = { status: 409, code: "seq_gap", detail: "A number is missing.", expected: 7 };
  reply = () => Response.json(body, { status: 409, headers: { "retry-after": "0" } });
  const why = await call("/api/x").catch((thrown: unknown) => thrown);
  expect(why).toBeInstanceOf(Trouble);
  expect(why).toMatchObject({ status: 409, code: "seq_gap", message: "A number is missing." });
  expect((why as Trouble).needs).toMatchObject({ expected: 7, retry_after_ms: 0 });
});

test("a refusal without words gets some, and no wait that nobody named", async () => {
  reply = () => new Response("<html>", { status: 500 });
  const why = await reach("/api/x", {}, new AbortController().signal).catch((thrown) => thrown);
  expect(why).toMatchObject({ status: 500, code: "", needs: {} });
  expect(why.message).toMatch(/answered 500/);
});

// RFC 9110, 15.6.3 and 15.6.5. 503 is our server's own word, and a code is its own too.
test.each([
  [502, "", "no_answer"],
  [503, "", ""],
  [504, "", "no_answer"],
  [502, "busy", "busy"],
])("%i of a proxy, with code %j, counts as %j", async (status, said, code) => {
  const body = said ? JSON.stringify({ code: said }) : "<html>";
  reply = () => new Response(body, { status });
  await expect(call("/api/x")).rejects.toMatchObject({
    code,
    status: code === "no_answer" ? 0 : status,
  });
});

test.each([
  ["no answer", () => Promise.reject(new TypeError("cut"))],
  ["an answer that is cut", () => Promise.resolve(new Response('{"cut'))],
])("%s is said as a server that does not answer", async (_, fetched) => {
  vi.stubGlobal("fetch", fetched);
  await expect(call("/api/x")).rejects.toMatchObject({ status: 0, code: "no_answer" });
});

test("a server is well where its health is answered", async () => {
  expect(await server_is_well()).toBe(true);
  reply = () => new Response("{}", { status: 500 });
  expect(await server_is_well()).toBe(false);
});
