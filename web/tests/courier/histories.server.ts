// Seeded histories of a salon's phones: the pages' own records, outbox and courier, each phone on
// a store of its own, against the real server behind a proxy that loses, repeats and cuts calls
// (tests/sync/faulty_salons.py). SEEDS says which: "0-199", or one number to run a failure again.
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { expect, test } from "vitest";
import { OneOrder, told } from "../one_order";
import { open_phone, type Phone, shown } from "./phones";

const SALONS = process.env.SALONS ?? "";
const [FIRST = 0, LAST = FIRST] = (process.env.SEEDS ?? "0").split("-").map(Number);
// A port that is reserved and never answers.
const NOBODY = "http://127.0.0.1:1";
const STEPS = 24;
const RUNS = Number(process.env.RUNS ?? 2);
const MOST_CALLS_BEFORE_A_KILL = 6;
const ROUNDS_TO_HEAL = 5;

type Chance = () => number;

/** Runs one history and holds it to what must hold; returns all that was done, as text. */
async function history(seed: number): Promise<string> {
  const world = new World(seed);
  try {
    await world.run();
    await world.heal();
    await world.hold();
  } finally {
    await world.close();
  }
  return told(world.did);
}

for (let seed = FIRST; seed <= LAST; seed += 1) {
  test(`seed ${seed}`, async () => {
    await history(seed);
  });
}

test("one seed gives one history", async () => {
  const first = await history(FIRST);
  expect(first.length).toBeGreaterThan(1000);
  for (let run = 2; run <= RUNS; run += 1) {
    expect(await history(FIRST), `run ${run}`).toBe(first);
  }
});

class Holder {
  phone: Phone | undefined;
  store = new IDBFactory();
  /** Every operation this store was told to be kept, as text. */
  kept = new Map<string, string>();
}

class World {
  readonly chance: Chance;
  readonly address: string;
  readonly holders: Holder[];
  readonly erased = new Set<string>();
  /** What was done and what the server answered, in order. */
  readonly did: string[] = [];
  private readonly order = new OneOrder(Date.now());
  private readonly fetch = globalThis.fetch;
  /** Exchanges whose window was closed over them. */
  readonly abandoned: Promise<unknown>[] = [];

  constructor(readonly seed: number) {
    this.chance = mulberry32(seed + 1);
    this.address = `${SALONS}/${seed}`;
    globalThis.fetch = (path, init) => this.call(String(path), init);
    this.holders = Array.from({ length: 2 + this.below(2) }, () => new Holder());
  }

  below(limit: number): number {
    return Math.floor(this.chance() * limit);
  }

  pick<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }

  async at_desk(act: string): Promise<unknown> {
    const response = await this.fetch(`${this.address}/-/${act}`, { method: "POST" });
    expect(response.status, act).toBe(200);
    return response.json();
  }

  /** A call of a phone, made and answered whole in its turn, late ones some seconds later. */
  private call(path: string, init: RequestInit = {}): Promise<Response> {
    const later_s = this.chance() < 0.8 ? 0 : this.below(4);
    const { signal, ...heedless } = init;
    const [what] = path.slice(this.address.length).split("?");
    return this.order.wait(
      later_s,
      async () => {
        const answer = await this.fetch(path, heedless).catch((why) => {
          this.did.push(`${what}: no answer`);
          throw why;
        });
        this.did.push(`${what}: ${answer.status}`);
        const body = await answer.arrayBuffer();
        const { status, headers } = answer;
        return new Response(body, { status, headers });
      },
      signal,
    );
  }

  async run(): Promise<void> {
    for (let step = 0; step < STEPS; step += 1) {
      const holder = this.pick(this.holders);
      const phone = await this.on(holder);
      const dice = this.below(20);
      this.did.push(`${this.holders.indexOf(holder)}: ${dice}`);
      if (dice < 9) await this.order.carry(this.write(holder, phone));
      else if (dice < 15) await this.order.carry(this.exchange(phone));
      else if (dice < 17) await this.kill_within_exchange(holder, phone);
      else if (dice === 17) await this.at_desk("backup");
      else if (dice === 18) await this.at_desk("restore");
      else if (dice === 19) await this.erase(phone);
      await this.order.pass(1);
    }
  }

  /** The phone of a holder, switched on and one of the salon's. */
  async on(holder: Holder): Promise<Phone> {
    if (holder.phone) return holder.phone;
    const phone = await open_phone(holder.store);
    phone.server.address = this.address;
    holder.phone = phone;
    if (!(await phone.caller())) {
      const code = (await this.at_desk("code")) as string;
      await this.order.carry(phone.pair_with(code));
    }
    await this.note_kept(holder, phone);
    return phone;
  }

  async note_kept(holder: Holder, phone: Phone): Promise<void> {
    for (const op of await phone.rows("outbox")) {
      if (!holder.kept.has(op.op_id)) holder.kept.set(op.op_id, JSON.stringify(op));
    }
  }

  async write(holder: Holder, phone: Phone): Promise<void> {
    const clients = phone.all("client").value;
    const client = clients.length > 0 ? this.pick(clients) : undefined;
    const act = this.pick(["client", "note", "note", "name", "fact", "gone"]);
    if (act === "client" || !client) {
      const id = await phone.create("client", { name: `client ${this.below(1e6)}` });
      expect(phone.one("client", id).value, "its own writing vanished").toBeTruthy();
    } else if (act === "note") {
      const text = `note ${this.below(1e6)}`;
      const id = await phone.create("note", { client: client.id, text });
      expect(phone.one("note", id).value?.text).toBe(text);
    } else if (act === "name") {
      await phone.change("client", client.id, { name: `renamed ${this.below(1e6)}` });
    } else if (act === "fact") {
      // More caution only: less is a decision, and refused as anything else.
      await phone.change("client", client.id, {
        dye_allergy: "diagnosed",
      });
    } else {
      await phone.remove("client", client.id);
    }
    await this.note_kept(holder, phone);
  }

  /** Exchanges once; a phone the desk no longer knows is paired again, as a person would. */
  async exchange(phone: Phone): Promise<boolean> {
    try {
      await phone.exchange();
      return true;
    } catch (why) {
      const { code } = why as { code?: string };
      if (code === undefined) throw why;
      if (code === "pairing_expired") await phone.pair_with((await this.at_desk("code")) as string);
      return false;
    }
  }

  /** The window goes while an exchange is on its way, which runs on for as long as it can. */
  async kill_within_exchange(holder: Holder, phone: Phone): Promise<void> {
    const left = phone.exchange().catch(() => undefined);
    this.abandoned.push(left.then(() => phone.close()));
    await this.order.carry(left, this.below(MOST_CALLS_BEFORE_A_KILL));
    // Half of them reach nobody from here on; the others go on beside the window opened next.
    if (this.chance() < 0.5) phone.server.address = NOBODY;
    holder.phone = undefined;
  }

  async erase(phone: Phone): Promise<void> {
    const clients = phone.all("client").value;
    if (clients.length === 0 || this.chance() < 0.5) return;
    const { id } = this.pick(clients);
    await this.at_desk(`erase/${id}`);
    this.erased.add(id);
  }

  async heal(): Promise<void> {
    await this.order.carry(Promise.all(this.abandoned));
    await this.at_desk("heal");
    for (let round = 0; round < ROUNDS_TO_HEAL; round += 1) {
      for (const holder of this.holders) {
        await this.order.carry(this.exchange(await this.on(holder)));
        await this.order.pass(1);
      }
    }
  }

  async hold(): Promise<void> {
    const settled = (await this.at_desk("settled")) as string[];
    expect(new Set(settled).size, "an operation is there twice").toBe(settled.length);
    const there = new Set(settled);
    const phones: Phone[] = [];
    for (const holder of this.holders) phones.push(await this.on(holder));
    this.did.push(...phones.map((phone) => JSON.stringify(shown(phone))));
    for (const [at, phone] of phones.entries()) {
      expect(await phone.rows("outbox"), "something waits for ever").toEqual([]);
      const in_tray = new Set((await phone.rows("tray")).map(({ op }) => op?.op_id));
      const lost = [...(this.holders[at]?.kept ?? [])].filter(
        ([id, text]) => !there.has(id) && !in_tray.has(id) && !this.names_erased(text),
      );
      expect(lost, "an operation is lost").toEqual([]);
      expect(shown(phone), "two phones do not show the same").toEqual(shown(phones[0] as Phone));
      const here = JSON.stringify(await phone.rows("base"));
      for (const id of this.erased)
        expect(here.includes(id), "an erased client is here").toBe(false);
    }
  }

  names_erased(text: string): boolean {
    return [...this.erased].some((id) => text.includes(id));
  }

  async close(): Promise<void> {
    for (const { phone } of this.holders) await phone?.close();
    await this.at_desk("close");
    globalThis.fetch = this.fetch;
    this.order.end();
  }
}

/** Random numbers from a seed: mulberry32, in the public domain (T. Ettinger, 2017; from memory). */
function mulberry32(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
