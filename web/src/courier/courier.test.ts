import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { open_phone, type Phone, shown, texts } from "../../tests/courier/phones";
import { problem, type Salon } from "../../tests/courier/salon_model";
import { salon_of_two } from "../../tests/courier/salon_of_two";
import type { Operation } from "../outbox/operation";
import { sent_in } from "../outbox/sent";
import type { Push } from "./push";

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

/** Both have exchanged all they have with the salon. */
async function settle() {
  for (const phone of [ana, ben, ana]) await phone.exchange();
}

describe("what was written on one phone", () => {
  test("is on the other after both have had an answer, once and in order", async () => {
    for (const text of ["one", "two", "three"]) await ana.create("note", { text });
    await settle();
    expect(texts(ben)).toEqual(["one", "two", "three"]);
    expect(await ana.rows("outbox")).toEqual([]);
    await settle();
    expect(texts(ben)).toEqual(["one", "two", "three"]);
    expect(shown(ben)).toEqual(shown(ana));
  });

  test("stays in view at every step, and after a reload at every step", async () => {
    await ana.create("note", { text: "mine" });
    expect(texts(ana)).toEqual(["mine"]);
    // The page that follows the receipt does not come.
    salon.instead = (path) => (path.endsWith("push") ? undefined : problem(503, "busy"));
    await expect(ana.exchange()).rejects.toThrow("busy");
    expect((await ana.rows("sent")).flatMap(sent_in)).toHaveLength(2);
    expect(texts(ana)).toEqual(["mine"]);
    await ana.close();
    ana = await open_phone(ana.store);
    expect(texts(ana)).toEqual(["mine"]);
    salon.instead = () => undefined;
    await ana.exchange();
    expect(texts(ana)).toEqual(["mine"]);
    await ana.close();
    ana = await open_phone(ana.store);
    expect(texts(ana)).toEqual(["mine"]);
  });

  test("is counted in all in every batch, what the batch holds included", async () => {
    const told: [number, number][] = [];
    salon.instead = (path, body) => {
      if (path.endsWith("push")) told.push([(body as Push).queued, (body as Push).ops.length]);
      return undefined;
    };
    const texts_to_send = Array.from({ length: 600 }, (_, at) => `note ${at}`);
    for (const text of texts_to_send) await ana.create("note", { text });
    const in_all = (await ana.rows("outbox")).length;
    await ana.exchange();
    expect(told).toEqual([
      [in_all, 500],
      [in_all - 500, in_all - 500],
    ]);
  });

  test("arrives once where the answer was lost and it is sent again", async () => {
    await ana.create("note", { text: "once" });
    let lost = 0;
    vi.stubGlobal("fetch", async (...asked: Parameters<typeof fetch>) => {
      const answer = await salon.fetch(...(asked as [string]));
      if (String(asked[0]).endsWith("push") && lost++ === 0) throw new TypeError("cut");
      return answer;
    });
    await expect(ana.exchange()).rejects.toThrow("does not answer");
    expect(await ana.rows("outbox")).toHaveLength(2);
    await settle();
    expect(salon.log).toHaveLength(3);
    expect(texts(ben)).toEqual(["once"]);
  });

  test("goes out in batches, gzipped, each of 500 at most", async () => {
    const changes = Array.from({ length: 1200 }, (_, at) => ({
      do: "create" as const,
      kind: "note" as const,
      id: ana.new_id(),
      fields: { text: `note ${at}` },
    }));
    await ana.together(changes);
    const sizes: number[] = [];
    salon.instead = (path, body) => {
      if (path.endsWith("push")) sizes.push((body as Push).ops.length);
      return undefined;
    };
    await settle();
    expect(sizes).toEqual([500, 500, 201, 1]);
    expect(ben.all("note").value).toHaveLength(1200);
  });

  test("written while an exchange runs is neither lost from view nor sent twice", async () => {
    await ana.create("note", { text: "before" });
    let left = 3;
    vi.stubGlobal("fetch", async (...asked: Parameters<typeof fetch>) => {
      if (left-- > 0) await ana.create("note", { text: `during ${left}` });
      return salon.fetch(...(asked as [string]));
    });
    await ana.exchange();
    vi.stubGlobal("fetch", salon.fetch);
    const here = texts(ana);
    expect(here).toHaveLength(4);
    await settle();
    expect(texts(ana)).toEqual(here);
    expect(texts(ben)).toEqual(here);
  });
});

describe("two who wrote at once", () => {
  async function both_have(name: string) {
    const id = await ana.create("client", { name });
    await settle();
    return id;
  }

  test.each(["ana first", "ben first"])("are both kept and shown to both, %s", async (order) => {
    const id = await both_have("Mara Testfeld");
    await ana.change("client", id, { name: "Mara T", phone: "1" });
    await ben.change("client", id, { name: "M Testfeld", phone: "2" });
    for (const phone of order === "ana first" ? [ana, ben, ana] : [ben, ana, ben]) {
      await phone.exchange();
    }
    for (const phone of [ana, ben]) {
      const heads = phone.one("client", id).value?.heads?.name?.map(({ v }) => v);
      expect(heads).toEqual(["Mara T", "M Testfeld"]);
    }
    expect(shown(ben)).toEqual(shown(ana));
  });

  test("are as cautious as the more cautious of them", async () => {
    const id = await both_have("Mara Testfeld");
    await ana.change("client", id, { dye_allergy: "none" });
    await ben.change("client", id, { dye_allergy: "confirmed" });
    await settle();
    expect(ana.one("client", id).value?.dye_allergy).toBe("confirmed");
    expect(shown(ben)).toEqual(shown(ana));
  });

  test("a delete that had not seen the other's edit is looked at", async () => {
    const id = await both_have("Mara Testfeld");
    await ana.remove("client", id);
    await ben.change("client", id, { phone: "new" });
    await settle();
    expect(ana.needing_a_look("client").value.map((each) => each.id)).toEqual([id]);
    expect(ben.needing_a_look("client").value.map((each) => each.id)).toEqual([id]);
  });
});

describe("what the server refuses", () => {
  test("goes to the tray with its reason, uses up its number, and lets the rest through", async () => {
    await ana.create("client", { name: "refuse me" });
    await ana.create("note", { text: "after it" });
    await settle();
    expect(texts(ben)).toEqual(["after it"]);
    expect(ana.all("client").value).toEqual([]);
    const [row] = await ana.rows("tray");
    expect(row).toMatchObject({ code: "field_invalid", way_on: "edit", message: "No." });
    expect(row?.op?.fields).toEqual({ name: "refuse me" });
  });

  test("sent again with other words it arrives once, says what it stands for, and is gone", async () => {
    const id = await ana.create("client", { name: "refuse me" });
    await settle();
    await ana.read_tray();
    const [row] = ana.tray.value;
    const again = ana.send_again(row?.id ?? "", { name: "Mara Testfeld" });
    await Promise.all([again, ana.send_again(row?.id ?? "", { name: "a second tap" })]);
    await settle();
    expect(ben.one("client", id).value?.name).toBe("Mara Testfeld");
    expect(salon.log.at(-1)?.op.amends).toBe(row?.id);
    expect(ana.tray.value).toEqual([]);
    expect(await ana.rows("tray")).toEqual([]);
  });

  test("one that cannot be read is found by halving and set aside; its number is filled", async () => {
    for (const text of ["one", "two", "bad", "three"]) await ana.create("note", { text });
    salon.instead = (path, body) =>
      path.endsWith("push") && (body as Push).ops.some(({ fields }) => fields?.text === "bad")
        ? problem(400, "body_unreadable")
        : undefined;
    await settle();
    expect(texts(ben)).toEqual(["one", "two", "three"]);
    expect(texts(ana)).toEqual(["one", "two", "three"]);
    expect((await ana.rows("tray"))[0]?.op?.fields).toEqual({ text: "bad" });
    expect(salon.log.map(({ op }) => op.device_seq).sort()).toEqual([1, 1, 2, 3, 4, 5]);
  });

  test.each([
    [401, "pairing_expired"],
    [403, "device_revoked"],
    [429, "slow_down"],
    [500, ""],
    [507, "disk_full"],
    [409, "schema_ahead"],
  ])("keeps everything waiting on %i %s", async (status, code) => {
    await ana.create("note", { text: "mine" });
    salon.instead = () => problem(status, code, {}, { "retry-after": "7" });
    await expect(ana.exchange()).rejects.toMatchObject({
      status,
      code,
      needs: { retry_after_ms: 7000 },
    });
    expect(await ana.rows("outbox")).toHaveLength(2);
    expect(await ana.rows("tray")).toEqual([]);
    salon.instead = () => undefined;
    await settle();
    expect(texts(ben)).toEqual(["mine"]);
  });

  test("a desk that takes nothing still gives", async () => {
    await ben.create("note", { text: "from ben" });
    await ben.exchange();
    await ana.create("note", { text: "mine" });
    salon.instead = (path) => (path.endsWith("push") ? problem(507, "disk_full") : undefined);
    await expect(ana.exchange()).rejects.toThrow("disk_full");
    expect(texts(ana).sort()).toEqual(["from ben", "mine"]);
  });

  test("413 halves; five failures of a server that is otherwise well blame the batch", async () => {
    for (const text of ["one", "poison", "two"]) await ana.create("note", { text });
    salon.instead = (path, body) => {
      if (path === "/api/health") return new Response("{}");
      if (!path.endsWith("push")) return undefined;
      const { ops } = body as Push;
      if (ops.length > 3) return problem(413, "too_large", { max_ops: 500, max_bytes: 2 ** 21 });
      return ops.some(({ fields }) => fields?.text === "poison") ? problem(500, "") : undefined;
    };
    for (let times = 0; times < 12; times += 1) await ana.exchange().catch(() => undefined);
    salon.instead = () => undefined;
    await settle();
    expect(texts(ben)).toEqual(["one", "two"]);
    expect((await ana.rows("tray"))[0]?.op?.fields).toEqual({ text: "poison" });
  });
});

describe("a desk that was put back from a backup", () => {
  test("gets back what it had acknowledged and what others had written", async () => {
    await ana.create("note", { text: "in the backup" });
    await settle();
    salon.backup();
    await ana.create("note", { text: "ana, after it" });
    await ben.create("note", { text: "ben, after it" });
    await settle();
    // Ben never comes back; what he wrote is on Ana's phone alone.
    salon.restore();
    const { handed_back } = await ana.exchange();
    expect(handed_back).toBeGreaterThan(0);
    const cleo = await open_phone();
    await cleo.pair();
    const { position } = (await cleo.caller()) ?? {};
    expect(position?.epoch).toBe("e1");
    await cleo.exchange();
    expect(texts(cleo).sort()).toEqual(["ana, after it", "ben, after it", "in the backup"]);
    expect(texts(ana).sort()).toEqual(texts(cleo).sort());
    await cleo.close();
  });
});

describe("an emptied, copied or interrupted phone", () => {
  test("two phones with one name: the second takes another and sends all the same", async () => {
    await ana.exchange();
    const copy = await open_phone(await copied(ana));
    await ana.create("note", { text: "from the first" });
    await copy.create("note", { text: "from the copy" });
    await ana.exchange();
    await expect(copy.exchange().then(() => copy.exchange())).resolves.toBeDefined();
    await ben.exchange();
    expect(texts(ben).sort()).toEqual(["from the copy", "from the first"]);
    const first = (await ana.meta("device")) as { device_id: string };
    const second = (await copy.meta("device")) as { device_id: string };
    expect(second.device_id).not.toBe(first.device_id);
    await copy.close();
  });

  test("a first fetch that breaks at any page goes on from there", async () => {
    for (let at = 0; at < 7; at += 1) await ana.create("note", { text: `note ${at}` });
    await ana.exchange();
    salon.page = 2;
    const asked: string[] = [];
    let breaks = 0;
    vi.stubGlobal("fetch", async (address: string, request?: RequestInit) => {
      if (address.includes("snapshot")) {
        if (breaks++ % 2 === 1) throw new TypeError("cut");
        asked.push(address);
      }
      return salon.fetch(address, request);
    });
    for (let times = 0; times < 9; times += 1) await ben.exchange().catch(() => undefined);
    expect(new Set(asked).size).toBe(asked.length);
    expect(texts(ben)).toHaveLength(7);
  });
});

test("a search asks the server, and finds nothing there while it is out of reach", async () => {
  const found = [{ id: "n", kind: "note", words: "beige" }];
  salon.instead = (path) =>
    path === "/api/search" ? Response.json({ found, more: false }) : undefined;
  expect(await ana.found_at_the_server("beige", 60)).toEqual(found);
  expect(await ana.found_at_the_server("  ", 60)).toEqual([]);
  salon.instead = () => problem(503, "busy");
  expect(await ana.found_at_the_server("beige", 60)).toEqual([]);
  const alone = await open_phone();
  salon.instead = () => Response.json({ found, more: false });
  expect(await alone.found_at_the_server("beige", 60)).toEqual([]);
  await alone.close();
});

test("erased at the desk is erased on the phone: records, what waits, and what was refused", async () => {
  const canary = "canary-7f3a";
  const id = await ana.create("client", { name: canary });
  await ana.create("note", { client: id, text: "keeps" });
  await settle();
  await ben.change("client", id, { history: canary });
  salon.erase(id);
  await settle();
  for (const phone of [ana, ben]) {
    const all = await Promise.all(
      (["base", "outbox", "sent", "tray"] as const).map((name) => phone.rows(name)),
    );
    expect(JSON.stringify(all)).not.toContain(canary);
    expect(phone.one("client", id).value).toBeUndefined();
    expect(await phone.meta("ledger")).toHaveLength(1);
  }
});

test("a half-filled form that may name anybody goes with an erased person, here and in the store", async () => {
  const id = await ana.create("client", { name: "Mara Testfeld" });
  await settle();
  const { ANYBODY, is_typed, put_typed } = await import("../device/typed");
  const { all_drafts, put_draft } = await import("../outbox/drafts");
  put_typed("a list of names", ANYBODY, ["Mara Testfeld"], []);
  put_typed("a list of colours", "", ["copper"], []);
  // As another window of this phone keeps it.
  await put_draft(`form/another list/${ANYBODY}`, '["Mara Testfeld"]');
  salon.erase(id);
  await ben.exchange();
  expect(is_typed("a list of names", ANYBODY)).toBe(false);
  await put_draft("last", undefined);
  const left = [...(await all_drafts()).keys()].filter((key) => key.startsWith("form/"));
  expect(left).toEqual(["form/a list of colours/"]);
});

test("what waits about somebody who was erased leaves the screen as well, unsent", async () => {
  const id = await ana.create("client", { name: "Mara Testfeld" });
  await settle();
  const note = await ben.create("note", { client: id, text: "not sent yet" });
  salon.erase(id);
  salon.instead = (path) => (path.endsWith("push") ? problem(503, "busy") : undefined);
  await expect(ben.exchange()).rejects.toThrow("busy");
  expect(ben.one("note", note).value).toBeUndefined();
  expect(ben.all("client").value).toEqual([]);
});

test("a desk put back that waits for a number that was refused is given an empty one", async () => {
  await ana.create("note", { text: "in the backup" });
  await settle();
  salon.backup();
  await ana.create("client", { name: "refuse me" });
  await ana.create("note", { text: "after it" });
  await settle();
  expect(await ana.rows("tray")).toHaveLength(1);
  salon.restore();
  salon.refused.clear();
  await settle();
  expect(await ana.rows("outbox")).toEqual([]);
  expect(texts(ben)).toContain("after it");
});

test("numbers on the server run without a hole, whatever happened", async () => {
  for (let at = 0; at < 5; at += 1) await ana.create("note", { text: `${at}` });
  await settle();
  await ana.create("note", { text: "last" });
  await settle();
  const numbers = salon.log.map(({ op }) => op).filter(is_of(ana_id()));
  expect(numbers.map(({ device_seq }) => device_seq)).toEqual(numbers.map((_, at) => at + 1));
});

const ana_id = () => salon.log[0]?.op.hlc.slice(30) ?? "";
const is_of = (device_id: string) => (op: Operation) => op.hlc.endsWith(device_id);

/** A second store with all that the first holds, as when a phone's profile is copied. */
async function copied(phone: Phone) {
  const { IDBFactory } = await import("fake-indexeddb");
  const store = new IDBFactory();
  const copy = await open_phone(store);
  const { openDB } = await import("idb");
  globalThis.indexedDB = phone.store;
  const from = await openDB("basinside");
  globalThis.indexedDB = store;
  const to = await openDB("basinside");
  for (const name of ["meta", "base", "outbox", "sent"]) {
    const [keys, values] = [await from.getAllKeys(name), await from.getAll(name)];
    for (const [at, key] of keys.entries()) await to.put(name, values[at], key);
  }
  from.close();
  to.close();
  await copy.close();
  return store;
}
