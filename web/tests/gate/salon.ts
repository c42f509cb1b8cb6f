// One phone with two services, on which everything happens in any order: for walks.server.ts.
import { effect } from "@preact/signals";
import { expect } from "vitest";
import type { Question } from "../../src/api/shapes";
import { rfc3339 } from "../../src/device/when";
import { OneOrder, told } from "../one_order";
import { but_for_time, Calls, type Chance, chance_of, LATEST_S } from "./line_of_calls";
import { held_file, mixed_of, open_page } from "./other_phone";
import { Said } from "./said";

const HOUR_MS = 3_600_000;
const BEGINS_MS = Date.parse("2026-11-25T10:00:00Z");
const LINES = ["Still", "Fathom"] as const;
const CLEAN: Record<string, unknown> = {
  ...{ scalp: "sound", colour_reaction: "none", black_tattoo: "never", dye_allergy: "none" },
  ...{ persulfate_reaction: "none", chemo: "none", eighteen_or_over: "yes", heat: "no" },
  ...{ sixteen_or_over: "yes", guardian_consent: "yes", metal_test: "clear", air: "open" },
  ...{ stretch_test: "returns", strand_test: "pass", heat_allowed: "yes", labelled: "yes" },
  ...{ label_caution: "yes", for_fresh_lightened: "yes", gloves: "yes", hair_past: [] },
  ...{ test_applied_by: "salon", worker_skin: "clear", worker_breathing: "clear" },
  ...{ reaction_record: "none", health_basis: "consent", touches_skin: "yes" },
  ...{ leaflet_version: "leaflet 3", test_method: "open", nh3_percent: 2, age_years: 30 },
};
// What an answer on record may be changed to, at any time.
const SPOILT: Record<string, readonly string[]> = {
  scalp: ["broken", "unknown", "rash"],
  face_rash: ["yes", "unknown"],
  colour_reaction: ["mild", "unknown"],
  black_tattoo: ["yes_reaction"],
  dye_allergy: ["suspected"],
};
const OF_CLIENT = new Set(["colour_reaction", "black_tattoo", "dye_allergy"]);
const ACTS = [
  ...(["settle", "settle", "answer", "answer", "paper", "plan", "decide", "line"] as const),
  ...(["tap", "tap", "tap", "spoil", "race", "pause", "rinse", "bring"] as const),
];

export class Salon {
  readonly did: string[] = [];
  readonly count = { begun: 0, refused: 0, opened: 0, brought: 0 };
  readonly chance: Chance;
  readonly calls: Calls;
  private readonly order = new OneOrder(BEGINS_MS);
  private page!: Awaited<ReturnType<typeof open_page>>;
  private readonly ends: (() => void)[] = [];
  private readonly services: string[] = [];
  /** The services of a file that was imported: nobody does anything for them here. */
  private readonly brought: string[] = [];
  private said!: Said;
  private fault: unknown;

  constructor(seed: number, server: string) {
    this.chance = chance_of(seed + 1);
    this.calls = new Calls(server, this.chance, this.order);
  }

  open(): Promise<unknown> {
    return this.order.carry(this.opened());
  }

  private async opened(): Promise<void> {
    globalThis.fetch = this.calls.fetch as typeof fetch;
    await held_file();
    this.page = await open_page();
    this.said = new Said(this.page);
    for (const name of ["Ona Petrel", "Tam Ferris"]) {
      const id = await this.page.plan_for_new_client(name, new Date().toISOString());
      this.services.push(id);
      await this.mix(id, LINES[0]);
      this.ends.push(this.page.watch(id));
    }
    // Once all that follows from one write has followed: the page is drawn no earlier.
    const looked = effect(() => {
      if (this.page.gates.value) queueMicrotask(() => this.look());
    });
    this.ends.push(looked);
  }

  close(): void {
    for (const end of this.ends) end();
    this.page.close_records();
    this.order.end();
  }

  /** Returns all that was done, and what became of each call, as text. */
  history(): string {
    return told([...this.did, ...this.calls.went]);
  }

  /** Does one act, and looks whether the gates are as they must be. */
  async step(): Promise<void> {
    const act = this.pick(ACTS);
    const id = this.pick(this.services);
    this.did.push(act);
    if (act !== "pause") await this.order.carry(Promise.resolve(this.act(act, id)));
    this.look();
    await this.order.pass(act === "pause" ? 1 + Math.floor(this.chance() * LATEST_S) : 1);
    if (this.fault) throw this.fault;
  }

  /** Rinses and ends all, while no call comes through: the gate stands before neither. */
  async nothing_blocks_the_end(): Promise<void> {
    globalThis.fetch = () => Promise.reject(new TypeError("no way"));
    for (const id of [...this.services, ...this.brought]) {
      await this.order.carry(Promise.resolve(this.act("rinse", id)));
      await this.order.carry(this.page.end_service(id));
      expect(this.page.one("service", id).peek()?.state).toBe("ended");
    }
    expect(this.page.running.peek()).toEqual([]);
  }

  private act(
    act: Exclude<(typeof ACTS)[number], "pause">,
    id: string,
  ): Promise<unknown> | undefined {
    switch (act) {
      case "settle":
        return this.settle(id);
      case "answer":
        return this.answer(id, this.pick(this.questions(id)), this.chance() < 0.6);
      case "spoil":
        return this.spoil(id);
      case "paper":
        return this.paper(id, this.pick([2, 47, 49, 60, 60]), this.chance() < 0.9);
      case "plan":
        return this.plan(id);
      case "decide":
        return this.decide(id);
      case "line":
        this.calls.is_bad = this.chance() < 0.4;
        return;
      case "tap":
        return this.tap(id);
      case "race":
        return this.race(id);
      case "rinse":
        return this.rinse(id);
      case "bring":
        return this.bring();
    }
  }

  /** Looks at each gate: where it is open, the rules have said so to what is on record now. */
  private look(): void {
    try {
      for (const id of [...this.services, ...this.brought]) {
        const may = {
          mix: this.page.may_mix(id) || this.shows(id),
          start: this.page.may_start(id),
        };
        if (!may.mix && !may.start) continue;
        this.count.opened += 1;
        this.is_open_rightly(id, may);
      }
    } catch (why) {
      // In a microtask of its own nobody would hear it.
      this.fault ??= why;
    }
  }

  /** Whether any page shows grams that wait for this service: its own, a formula's, a print's. */
  private shows(id: string): boolean {
    const service = this.page.one("service", id).peek();
    const waiting = this.page
      .zones_of(id)
      .filter((zone) => service && this.page.is_for_client(service, zone))
      .filter(({ mix, first_section_at }) => mix && !first_section_at);
    if (!service || service.state === "ended" || waiting.length === 0) return false;
    const elsewhere = this.page.grams_of_client(service.client ?? "") === "shown";
    return elsewhere || waiting.some((zone) => !this.page.is_withheld(service, zone));
  }

  /** Imports what another phone started though the rules held it, once more too. */
  private async bring(): Promise<void> {
    const { file, service } = await held_file();
    await this.page.take_file_in(file);
    if (this.brought.includes(service)) return;
    this.brought.push(service);
    this.count.brought += 1;
    this.ends.push(this.page.watch(service));
  }

  private is_open_rightly(id: string, may: { mix: boolean; start: boolean }): void {
    const told = this.calls.told.get(but_for_time(this.request(id)));
    expect(told, "open without an answer to what is on record").toBeDefined();
    expect(may.mix && !told?.may_mix, "grams against the rules").toBe(false);
    expect(may.start && !told?.may_start, "a clock against the rules").toBe(false);
    expect(this.said.against(id), "open against what was said").toEqual([]);
  }

  private request(id: string) {
    const service = this.page.one("service", id).peek();
    if (!service) throw new Error(`no service ${id}`);
    return this.page.request_of(service, Date.now());
  }

  /** The clock's button: asks at this moment, and begins where the answer is yes. */
  private async tap(id: string): Promise<void> {
    const waiting = this.page.zones_of(id).filter((zone) => zone.mix && !zone.first_section_at);
    if (!(await this.page.may_start_now(id))) {
      this.count.refused += 1;
      return;
    }
    this.is_open_rightly(id, { mix: true, start: true });
    const direct = await this.calls.directly(this.request(id));
    expect(direct.may_start, "the rules, asked past the page").toBe(true);
    for (const zone of waiting) {
      await this.page.first_section_on(zone);
      this.count.begun += 1;
    }
  }

  private async race(id: string): Promise<void> {
    const other = this.act(
      this.pick(["answer", "plan", "paper", "decide"]),
      this.pick(this.services),
    );
    // The other act ends within the question, or after it.
    await this.page.may_start_now(id);
    this.look();
    await other;
  }

  private async rinse(id: string): Promise<void> {
    for (const clock of this.page.running.peek().filter(({ service }) => service === id)) {
      await this.page.rinsed(clock);
    }
  }

  private questions(id: string): Question[] {
    const { reply, is_current } = this.page.gate_of(id);
    return is_current ? (reply?.questions ?? []).filter(({ of }) => of !== "app") : [];
  }

  private async answer(id: string, question: Question | undefined, clean: boolean): Promise<void> {
    const service = this.page.one("service", id).peek();
    if (!service || !question) return;
    const { fact, answers } = question;
    const random = answers.length > 0 ? this.pick(answers).value : null;
    const value = clean ? (CLEAN[fact] ?? (answers.length > 0 ? "no" : null)) : random;
    if (fact === "hair_past" && !Array.isArray(value)) return;
    try {
      await this.page.answer(service, [{ question, value, words: String(value) }]);
      this.said.answered(service, fact, value);
    } catch (why) {
      if (!(why instanceof this.page.CautionNeedsDecision)) throw why;
      if (this.chance() < 0.5) return;
      const picked = { question, value, words: String(value) };
      await this.page.lower(service, picked, "the doctor's letter", "it says so");
      this.said.answered(service, fact, value);
    }
  }

  /** Says of an answer on record that it is otherwise, and taps at once. */
  private async spoil(id: string): Promise<void> {
    const fact = this.pick(Object.keys(SPOILT));
    const value = this.pick(SPOILT[fact] ?? []);
    const service = this.page.one("service", id).peek();
    const kept_with = OF_CLIENT.has(fact) ? "client" : "service";
    const question = { fact, kept_with, words: "Look again", answers: [] };
    if (!service) return;
    try {
      await this.page.answer(service, [{ question: question as never, value, words: value }]);
      this.said.answered(service, fact, value);
    } catch (why) {
      // It said less than is on record, which then stays.
      if (!(why instanceof this.page.CautionNeedsDecision)) throw why;
    }
    await this.tap(id);
  }

  /** Answers all that is asked with the least caution, until nothing is asked or holds. */
  private async settle(id: string): Promise<void> {
    this.calls.is_bad = false;
    for (let round = 0; round < 4; round += 1) {
      await this.page.may_start_now(id);
      if (this.page.may_start(id)) return;
      const state = this.page.gate_of(id).reply?.alert_test.state;
      if (state && ["missing", "other_line", "lapsed"].includes(state)) {
        await this.paper(id, 60, true);
        continue;
      }
      for (const question of this.questions(id)) await this.answer(id, question, true);
      await this.page.may_start_now(id);
      await this.decide(id);
    }
  }

  private async decide(id: string): Promise<void> {
    const { reply, is_current } = this.page.gate_of(id);
    if (!reply || !is_current) return;
    for (const finding of reply.findings.filter(({ group }) => group === "needs_decision")) {
      const { id: rule, basis, decided_by } = finding;
      const role = decided_by.at(-1) ?? "in_charge";
      const why = { by: "Ana", role, saw: "calm", why: "fine", edition: reply.edition };
      await this.page.decide(id, { rule, basis, ...why });
    }
  }

  private async paper(id: string, hours_ago: number, clear: boolean): Promise<void> {
    const service = this.page.one("service", id).peek();
    if (!service) return;
    const put_on_ms = Date.now() - hours_ago * HOUR_MS;
    const read_ms = Math.min(put_on_ms + 48 * HOUR_MS + 60_000, Date.now());
    const line = this.page.zones_of(id).flatMap(({ products = [] }) => products)[0]?.line;
    const said = { applied_by: "salon", used_before: "no", reader: "Ada Venn" };
    const result = clear ? ("clear" as const) : ("redness" as const);
    const test = {
      line: line ?? LINES[0],
      put_on: on_paper(put_on_ms),
      read: on_paper(read_ms),
      result,
    };
    await this.page.keep_paper_test(service.client ?? "", { ...test, ...said });
    const { put_on_ms: on, read_ms: read } = this.page.moments_of(test, Date.now());
    this.said.tested(service, test.line, on, read, clear);
  }

  private async plan(id: string): Promise<void> {
    const zone = this.pick(this.page.zones_of(id));
    const draw = this.chance();
    if (draw < 0.3) await this.mix(id, this.pick(LINES), this.pick([1.9, 6, 12.5]));
    else if (draw < 0.4) await this.page.add_zone(id, "ends", undefined);
    else if (draw < 0.5 && zone) await this.page.choose_again(zone.id);
    else if (zone) {
      const area = this.pick(["scalp", "lengths", "brows"] as const);
      await this.page.change("zone", zone.id, { area, heat: this.pick(["yes", "no"] as const) });
    }
  }

  private async mix(id: string, line: string, percent = 1.9): Promise<void> {
    const zone = this.pick(this.page.zones_of(id));
    if (!zone || zone.first_section_at) return;
    await this.page.change("zone", zone.id, mixed_of(line, percent));
  }

  private pick<T>(from: readonly T[]): T {
    return from[Math.floor(this.chance() * from.length)] as T;
  }
}

/** A moment as paper has it: the wall clock here, to the minute. */
function on_paper(at_ms: number): { day: string; hour: string } {
  const [day = "", time = ""] = rfc3339(at_ms).split("T");
  return { day, hour: time.slice(0, 5) };
}
