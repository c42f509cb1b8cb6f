// What was said on a phone, kept beside its records: what it speaks against is held, whatever the
// page and the rules make of it. Written from the warnings on the packs (EU-LABEL) and from 48 h
// (FDA-QA, UK-AAT; docs/safety.md): a reaction, a scalp that is not sound, a rash, no test.
import type { one as one_of } from "../../src/records/read";
import type { Entity } from "../../src/records/shapes";
import type { zones_of } from "../../src/salon/service/services";

type Service = Entity<"service">;
const FIT: Record<string, readonly unknown[]> = {
  colour_reaction: ["none"],
  dye_allergy: ["none"],
  black_tattoo: ["never", "yes_no_reaction"],
  scalp: ["sound", "settled_condition"],
  face_rash: ["no"],
};
const TWO_DAYS_MS = 48 * 3_600_000;
const OF_VISIT = new Set(["scalp", "face_rash", "touches_skin"]);

interface Test {
  client: string;
  line: string;
  put_on_ms: number;
  good: boolean;
  reacted: boolean;
}

export class Said {
  private readonly last = new Map<string, unknown>();
  private readonly tests: Test[] = [];

  constructor(readonly page: { one: typeof one_of; zones_of: typeof zones_of }) {}

  answered(service: Service, fact: string, value: unknown): void {
    if (fact in FIT || fact === "touches_skin") this.last.set(this.place(service, fact), value);
  }

  tested(service: Service, line: string, put_on_ms: number, read_ms: number, clear: boolean): void {
    const good = clear && read_ms - put_on_ms >= TWO_DAYS_MS;
    this.tests.push({ client: service.client ?? "", line, put_on_ms, good, reacted: !clear });
  }

  /** Returns what speaks against a service. */
  against(id: string): string[] {
    const service = this.page.one("service", id).peek();
    if (!service) return ["no service"];
    const found = Object.entries(FIT)
      .filter(([fact, fit]) => !fit.includes(this.last.get(this.place(service, fact))))
      .map(([fact]) => fact);
    const own = this.tests.filter(({ client }) => client === service.client);
    if (own.some(({ reacted }) => reacted)) found.push("a test reacted");
    // What touches no skin needs no test.
    if (this.last.get(this.place(service, "touches_skin")) === "no") return found;
    for (const line of this.lines(id)) {
      const of_line = own.filter((test) => test.line === line);
      const latest = of_line.sort((a, b) => a.put_on_ms - b.put_on_ms).at(-1);
      if (!latest?.good) found.push(`no good test of ${line}`);
    }
    return found;
  }

  private place(service: Service, fact: string): string {
    return `${OF_VISIT.has(fact) ? service.id : service.client} ${fact}`;
  }

  private lines(id: string): string[] {
    const mixed = this.page.zones_of(id).filter(({ mix, rinsed_at }) => mix && !rinsed_at);
    return [...new Set(mixed.flatMap(({ products = [] }) => products.map(({ line }) => line)))];
  }
}
