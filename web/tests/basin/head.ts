// One client with one or several zones on, to whom everything happens in any order.
import { expect, vi } from "vitest";
import type { FormulationReply, Hair, Mix, Product, Reading } from "../../src/api/shapes";
import type { Running } from "../../src/salon/service/running";
import type { Zone } from "../../src/salon/service/services";
import { chance_of } from "../gate/line_of_calls";
import { cut, far } from "./compare";
import { MORE_ACTS, SHARES, to_the_scale, WISHES, WORDS } from "./drawn";
import { directly, type Expected, expected, order_by, type Said } from "./expected";
import { open_page, type Page } from "./page";
import { say_other_tube } from "./tubes";

const MINUTE_MS = 60_000;
const BEGINS = Date.parse("2026-11-25T10:00:00Z");
const NEAR = 1e-9;
const LANES = ["on_head", "wiped", "if_rinsed"] as const;

export class Head {
  readonly did: string[] = [];
  readonly count = {
    looks: 0,
    doubts: 0,
    rinsed_early: 0,
    repeats: 0,
    several: 0,
    waits: 0,
    weighed: 0,
    tubes: 0,
  };
  private readonly chance: () => number;
  private readonly amounts: () => number;
  private page!: Page;
  private readonly ends: (() => void)[] = [];
  private service = "";
  private client = "";
  /** The looks at each zone, as this test took them and left them. */
  private readonly said = new Map<string, { id: string; said: Said }[]>();
  private products: Product[] = [];

  constructor(
    seed: number,
    private readonly server: string,
  ) {
    this.chance = chance_of(seed + 1);
    // Apart, so that what happens to a head does not hang on how much of it there is.
    this.amounts = chance_of(seed + 100_001);
  }

  async open(): Promise<void> {
    vi.useFakeTimers({ toFake: ["Date"], now: BEGINS });
    const page_fetch = directly_fetch;
    globalThis.fetch = ((path: unknown, init?: RequestInit) =>
      page_fetch(`${this.server}${path}`, init)) as typeof fetch;
    this.page = await open_page();
    await this.page.fetch_shelf();
    this.products = this.page.shelf.peek().products;
    this.service = await this.page.plan_for_new_client("Ona Petrel", new Date().toISOString());
    this.client = this.page.one("service", this.service).peek()?.client ?? "";
    const zones = this.chance() < 0.4 ? 2 + Math.floor(this.chance() * 2) : 1;
    if (zones > 1) this.count.several += 1;
    for (let place = 0; place < zones; place += 1) await this.mix(place);
    this.ends.push(this.page.watch_predictions(this.service));
    for (const zone of this.zones()) {
      const weighed = this.weigh_out(zone);
      await this.page.first_section_on(zone);
      await this.weighed_agrees(zone.id, weighed);
      this.pass(this.chance() * 4);
      await this.page.last_section_on(this.zone(zone.id));
    }
    await this.all_agree();
  }

  close(): void {
    for (const end of this.ends) end();
    this.page.close_records();
    vi.useRealTimers();
  }

  /** Does one act, and looks whether all that is shown agrees. */
  async step(): Promise<void> {
    const act = this.pick(MORE_ACTS);
    this.did.push(act);
    await this.act(act);
    await this.all_agree();
  }

  async rinse_the_rest(): Promise<void> {
    for (const clock of this.clocks()) {
      this.pass(this.chance() * 4);
      await this.rinse(clock);
      await this.all_agree();
    }
  }

  /** The same again: the minutes are this head's own, whatever looks have moved the last time. */
  async comes_again(): Promise<void> {
    const learns = this.chance() < 0.5;
    const before = this.zones();
    if (learns) await this.learn(before[0]);
    await this.page.end_service(this.service);
    this.pass(6 * 7 * 24 * 60);
    const again = await this.page.plan_service(this.client, new Date().toISOString());
    await this.page.same_as(this.service, again);
    this.service = again;
    this.ends.push(this.page.watch_predictions(again));
    for (const zone of this.zones()) {
      expect(zone.mix).toEqual(before[zone.order ?? 0]?.mix);
      await this.page.first_section_on(zone);
      await this.page.last_section_on(this.zone(zone.id));
    }
    await this.all_agree();
    this.count.repeats += 1;
  }

  private act(act: (typeof MORE_ACTS)[number]): Promise<unknown> | undefined {
    const clock = this.pick(this.clocks());
    switch (act) {
      case "time":
        return this.pass(this.chance() * 4);
      case "look":
        return clock && this.look(clock, { words: this.pick(WORDS), source: "eye" });
      case "surprise":
        return clock && this.look(clock, { lab: [30, 30, -25], source: "instrument" });
      case "answer":
        return this.answer();
      case "undo":
        return this.take_back(clock);
      case "weigh":
        return clock && this.weigh(clock);
      case "move":
        return clock && this.page.move_beginning(this.zone(clock.zone), this.pick([-1, 1]));
      case "rinse":
        return clock && this.clocks().length > 1 ? this.rinse(clock) : undefined;
    }
  }

  /** The scale shows so much of each pour for this zone: each zone has an amount of its own. */
  private weigh_out(zone: Zone): Mix {
    const { mix } = zone;
    if (!mix) throw new Error("nothing was mixed");
    const share = SHARES[Math.floor(this.amounts() * SHARES.length)] ?? 1;
    const pours = mix.parts.map((part) => ({ ...part, grams: to_the_scale(part.grams * share) }));
    const { developer } = mix;
    const shown = {
      ...mix,
      parts: pours,
      ...(developer && {
        developer: { ...developer, grams: to_the_scale(developer.grams * share) },
      }),
    };
    this.page.note_shown(zone, shown);
    return shown;
  }

  /** The record, the frozen block, the print and a kept formula give the weighed grams. */
  private async weighed_agrees(id: string, weighed: Mix): Promise<void> {
    const zone = this.zone(id);
    expect(zone.mix, "the bowl").toEqual(weighed);
    const start = this.page.starts_of(this.service).findLast((one) => one.zone === id);
    const { parts = [], developer } = start?.bowl ?? {};
    expect(
      parts.map(({ product, grams }) => ({ product, grams })),
      "the print",
    ).toEqual(weighed.parts.map(({ product, grams }) => ({ product, grams })));
    expect(developer?.grams).toBe(weighed.developer?.grams);
    for (const { product, line, name } of parts) {
      const known = this.products.find((one) => one.id === product);
      expect([line, name], "the line on paper").toEqual([known?.line, known?.name]);
    }
    const formula = await this.page.keep_zone("kept", zone, this.client);
    expect(this.page.one("formula", formula).peek()?.mix, "the formula").toEqual(weighed);
    this.count.weighed += 1;
  }

  private async mix(place: number): Promise<void> {
    const { hair, wish, formula } = await this.something_to_mix();
    const { mix, window, predicted } = formula;
    const used = mix.parts.map(({ product }) => product);
    const products = this.products.filter(({ id }) => used.includes(id));
    const most_minutes = Math.min(...products.map((product) => product.window.max));
    const fields = { hair, wish, mix, window, predicted, products, most_minutes, work: "toner" };
    const [first] = this.zones();
    if (place === 0 && first) await this.page.change("zone", first.id, fields as never, null);
    else {
      const name = `zone ${place}`;
      const more = { service: this.service, name, order: place };
      await this.page.create("zone", { ...fields, ...more } as never);
    }
  }

  /** Draws hair and a wish until the shelf can do it. */
  private async something_to_mix() {
    const limits = { count: 3, total_g: 40, step_g: 5 };
    for (;;) {
      const hair = {
        ...{ level: this.pick([9, 9.5, 10]), warmth: this.pick([0.7, 1, 1.4]) },
        ...{ porosity: this.pick([0.3, 0.5, 0.7]), lifted: true },
      } as Hair;
      const wish = this.pick(WISHES);
      const asked = { hair, wish, products: this.products, limits };
      const { formulas } = await directly<FormulationReply>(this.server, "formulations", asked);
      const formula = this.pick(formulas);
      if (formula) return { hair, wish, formula };
    }
  }

  private pass(minutes: number): undefined {
    vi.setSystemTime(Date.now() + Math.round(minutes * 60) * 1000);
    this.page.now_ms.value = Date.now();
  }

  private async look(
    clock: Running,
    seen: Pick<Reading, "source"> & Partial<Pick<Reading, "lab" | "words">>,
  ): Promise<void> {
    const where = this.pick(["on_head", "wiped"] as const);
    const minute = this.page.minute_of(clock, Date.now());
    const last = this.page.minute_of(clock, clock.most_ms);
    if (this.page.held(clock.zone).doubt || minute > last) return;
    // A second apart, so that the record knows which came first.
    this.pass(1 / 60);
    const reading = { minute, where, ...seen } as Reading;
    const before = new Set(this.page.readings_of(clock.zone).map(({ id }) => id));
    await this.page.keep_look(this.zone(clock.zone), reading);
    const made = this.page.readings_of(clock.zone).find(({ id }) => !before.has(id));
    const said = { reading, trusted: false };
    this.said.set(clock.zone, [...this.looks(clock.zone), { id: made?.id ?? "", said }]);
    this.count.looks += 1;
  }

  /** Answers the question of a look in doubt: it is right, or it is taken away. */
  private async answer(): Promise<void> {
    for (const { id } of this.zones()) {
      const { doubt } = this.page.held(id);
      if (!doubt) continue;
      const mine = this.looks(id).find((look) => look.id === doubt.look.id);
      if (this.amounts() < 0.3 && (await say_other_tube(this.page, { id }, this.pick_tube))) {
        this.count.tubes += 1;
      } else if (this.chance() < 0.5) {
        await this.page.trust_look(doubt.look);
        if (mine) mine.said.trusted = true;
        const now = this.page.readings_of(id).find(({ corrects }) => corrects === doubt.look.id);
        if (mine && now) mine.id = now.id;
      } else {
        await this.page.take_back_look(doubt.look);
        this.said.set(
          id,
          this.looks(id).filter((look) => look !== mine),
        );
      }
    }
  }

  private async take_back(clock: Running | undefined): Promise<void> {
    const last = clock && this.page.readings_of(clock.zone).at(-1);
    if (!clock || !last) return;
    await this.page.take_back_look(last);
    this.said.set(
      clock.zone,
      this.looks(clock.zone).filter(({ id }) => id !== last.id),
    );
  }

  /** The scale's own grams are what is on the hair: other proportions are another strip. */
  private async weigh(clock: Running): Promise<void> {
    const { id, mix } = this.zone(clock.zone);
    if (!mix) return;
    const parts = mix.parts.map((part) => ({ ...part, grams: part.grams + this.pick([1, 2, 3]) }));
    await this.page.change("zone", id, { mix: { ...mix, parts } }, "Weighed the mix.");
  }

  private async rinse(clock: Running): Promise<void> {
    const { window } = clock;
    if ("best" in window && this.page.minute_of(clock, Date.now()) < window.earliest) {
      this.count.rinsed_early += 1;
    }
    const { prediction } = this.page.held(clock.zone);
    await this.page.rinsed(
      clock,
      (minute) => this.page.minute_in(prediction?.strip ?? [], minute)?.if_rinsed,
    );
  }

  private async learn(zone: Zone | undefined): Promise<void> {
    if (!zone || this.looks(zone.id).length === 0) return;
    const end = this.page.watch_judgement(zone.id);
    await vi.waitFor(() => {
      if (this.page.held(zone.id).state !== "settled") throw new Error("not settled");
      const { state } = this.page.judgement.asked.peek();
      if (state === "working") throw new Error("not judged yet");
    }, PATIENT);
    await this.page.learn(this.client, zone);
    end();
  }

  /** Waits until what is held answers what is on record, then compares all that is shown. */
  private async all_agree(): Promise<void> {
    for (const { id } of this.zones()) {
      await vi.waitFor(() => {
        const { state, prediction, sentence } = this.page.held(id);
        if (state === "failed") throw new Error(sentence);
        expect(prediction?.about).toBe(this.page.question_of(this.zone(id)));
        expect(state).toBe("settled");
      }, PATIENT);
      await this.agrees(id);
    }
  }

  private async agrees(id: string): Promise<void> {
    const zone = this.zone(id);
    const { hair, mix, wish, products } = zone;
    if (!hair || !mix || !wish || !products) throw new Error("the zone lost its mix");
    const looks = this.looks(id).map(({ said }) => said);
    const must = await expected(this.server, { hair, mix, wish, products }, looks);
    const { prediction, doubt } = this.page.held(id);
    if (doubt) this.count.doubts += 1;
    expect(Boolean(doubt), "a look in doubt").toBe(must.doubted !== undefined);
    this.same_colours(prediction?.strip ?? [], must.strip);
    if (zone.rinsed_at) this.result_agrees(zone, must);
    const clock = this.clocks().find((one) => one.zone === id);
    if (clock) this.minutes_agree(clock, must);
  }

  private result_agrees(zone: Zone, { strip }: Expected): void {
    const minute = Math.min(this.page.minutes_on(zone), strip.length - 1);
    for (const shown of [zone.predicted, this.page.foretold(zone)?.colour]) {
      expect(far(shown?.lab, strip[minute]?.if_rinsed.lab), "the result").toBeLessThan(NEAR);
    }
  }

  private same_colours(shown: readonly Expected["strip"][0][], must: Expected["strip"]): void {
    expect(shown.length).toBe(must.length);
    shown.forEach((at, minute) => {
      for (const lane of LANES) {
        expect(far(at[lane].lab, must[minute]?.[lane].lab), `${lane}`).toBeLessThan(NEAR);
      }
    });
  }

  /** The clock's window is the strip's bracket; order, countdown and alarm read its minutes. */
  private minutes_agree(clock: Running, must: Expected): void {
    const { began_ms, most_ms, window, due, zone } = clock;
    const minutes = (at_ms: number) => (at_ms - began_ms) / MINUTE_MS;
    const most = Math.floor(minutes(most_ms));
    const bracket = cut(must.window, most);
    expect(window, "the strip's bracket").toEqual(bracket);
    expect(clock.look_again_min).toBe(must.look_again_min);
    if (this.page.held(zone).doubt) return;
    const now = minutes(this.page.now_ms.peek());
    const order = this.page.live_order(clock, (at_ms) => `m${minutes(at_ms)}`).peek();
    const left = Math.ceil(minutes(due.at_ms) - now);
    if (now * MINUTE_MS + began_ms >= most_ms) {
      expect(order.verb).toBe("Rinse now");
      return;
    }
    const verb = order.figure ? `${order.verb} ${order.figure}` : order.verb;
    const patchy = this.page.held(zone).prediction?.saturate && verb === "Saturate again";
    if (!patchy) expect(verb, "the order").toBe(order_by({ ...must, window: bracket }, now));
    if (order.verb === "Wait") {
      this.count.waits += 1;
      expect(Number(order.figure), "order and countdown").toBe(left);
    }
    const rings = this.page.moments_of(clock).find(({ at_ms }) => minutes(at_ms) > now);
    if (due.is !== "best" && left > 0) expect(rings?.at_ms, "the alarm").toBe(due.at_ms);
    const said = /Rinse m([\d.]+) to m([\d.]+)/.exec(order.why);
    if (said && "best" in bracket) {
      expect([Number(said[1]), Number(said[2])]).toEqual([bracket.earliest, bracket.latest]);
    }
  }

  private looks(zone: string) {
    return this.said.get(zone) ?? [];
  }

  private clocks(): readonly Running[] {
    return this.page.running.peek().filter(({ service }) => service === this.service);
  }

  private zones(): readonly Zone[] {
    return this.page.zones_of(this.service);
  }

  private zone(id: string): Zone {
    const zone = this.page.one("zone", id).peek();
    if (!zone) throw new Error(`no zone ${id}`);
    return zone;
  }

  private pick_tube = <T>(of: readonly T[]) => of[Math.floor(this.amounts() * of.length)] as T;

  private pick<T>(of: readonly T[]): T {
    return of[Math.floor(this.chance() * of.length)] as T;
  }
}

const directly_fetch = globalThis.fetch;
const PATIENT = { timeout: 120_000, interval: 5 };
