import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { open_phone, type Phone, shown, texts } from "../../tests/courier/phones";
import type { Salon } from "../../tests/courier/salon_model";
import { salon_of_two } from "../../tests/courier/salon_of_two";
import { sent_in } from "../outbox/sent";

let salon: Salon;
let ana: Phone;
let ben: Phone;

beforeEach(async () => {
  ({ salon, ana, ben } = await salon_of_two());
});

afterEach(async () => {
  vi.unstubAllGlobals();
  await Promise.all([ana.close(), ben.close()]);
});

const notes = (phone: Phone, count: number) =>
  phone.together(
    Array.from({ length: count }, (_, at) => ({
      do: "create" as const,
      kind: "note" as const,
      id: phone.new_id(),
      fields: { text: `note ${at}` },
    })),
  );

/** What was asked of the salon, in order, each call as its last part. */
function watched() {
  const asked: string[] = [];
  vi.stubGlobal("fetch", (address: string, request?: RequestInit) => {
    asked.push(address.replace(/^.*\/|\?.*$/g, ""));
    return salon.fetch(address, request);
  });
  return asked;
}

test("a batch is sent while the receipts of the one before it are kept, each kept once", async () => {
  await notes(ana, 1100);
  await ana.exchange();
  const rows = await ana.rows("sent");
  expect(rows.map((row) => sent_in(row).length)).toEqual([500, 500, 101]);
  const numbers = rows.flatMap(sent_in).map(({ op }) => op.device_seq);
  expect(numbers).toEqual(Array.from({ length: 1101 }, (_, at) => at + 1));
  expect(await ana.rows("outbox")).toEqual([]);
  expect(salon.log).toHaveLength(1101);
});

test("a phone that is killed before the receipts were kept sends again, and it lands once", async () => {
  await notes(ana, 700);
  const { store } = ana;
  let answered = 0;
  vi.stubGlobal("fetch", async (address: string, request?: RequestInit) => {
    const answer = await salon.fetch(address, request);
    // Killed with the second answer on its way: the first one's receipts may be kept or not.
    if (address.endsWith("push") && ++answered === 2) throw new TypeError("killed");
    return answer;
  });
  await expect(ana.exchange()).rejects.toThrow("does not answer");
  await ana.close();
  vi.stubGlobal("fetch", salon.fetch);
  ana = await open_phone(store);
  expect(texts(ana)).toHaveLength(700);
  await ana.exchange();
  await ben.exchange();
  const landed = salon.log.map(({ op }) => op.op_id);
  expect(new Set(landed).size).toBe(landed.length);
  expect(await ana.rows("outbox")).toEqual([]);
  expect(texts(ben)).toHaveLength(700);
  expect(shown(ben)).toEqual(shown(ana));
});

test("what was sent after a page was made stays in view when the page is kept", async () => {
  const id = await ben.create("client", { name: "Mara Testfeld" });
  await ben.exchange();
  await ana.exchange();
  await ben.change("client", id, { phone: "1" });
  await ben.exchange();
  // While the page with Ben's change is on its way, another window sends a change of its own.
  vi.stubGlobal("fetch", async (address: string, request?: RequestInit) => {
    const answer = await salon.fetch(address, request);
    if (address.includes("pull")) {
      vi.stubGlobal("fetch", salon.fetch);
      await ana.change("client", id, { name: "Mara T" });
      await ana.push_all();
      expect(await ana.rows("outbox")).toEqual([]);
    }
    return answer;
  });
  await ana.exchange();
  expect(ana.one("client", id).value).toMatchObject({ name: "Mara T", phone: "1" });
  await ana.exchange();
  expect(ana.one("client", id).value).toMatchObject({ name: "Mara T", phone: "1" });
});

test("each page is asked for once, while the one before it is kept", async () => {
  await notes(ana, 10);
  await ana.exchange();
  await ben.exchange();
  await notes(ana, 10);
  await ana.exchange();
  salon.page = 4;
  const asked = watched();
  await ben.exchange();
  expect(asked.filter((call) => call === "pull")).toHaveLength(3);
  expect(texts(ben)).toHaveLength(20);
});

test("a page that was asked for ahead is let go where another window has gone on", async () => {
  await notes(ana, 12);
  await ana.exchange();
  await ben.exchange();
  await notes(ana, 12);
  await ana.exchange();
  salon.page = 5;
  let pulls = 0;
  vi.stubGlobal("fetch", async (address: string, request?: RequestInit) => {
    const answer = await salon.fetch(address, request);
    // What stands for the other window goes all the way while this one holds its first page.
    if (address.includes("pull") && ++pulls === 1) await ben.exchange();
    return answer;
  });
  await ben.exchange();
  expect(texts(ben)).toHaveLength(24);
  const { position } = (await ben.caller()) ?? {};
  expect(position?.cursor).toMatch(`e1.${salon.log.length}.`);
  expect(shown(ben)).toEqual(shown(ana));
});
