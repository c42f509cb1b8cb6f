// A service's records, given as operations, put before the safety rules: what the page would ask.

import { facts_of } from "../../src/gate/facts";
import { plan_of } from "../../src/gate/plan";
import { close_records, one, take } from "../../src/records/read";

/** Records as the operations that made them, and the service that is asked about. */
export interface Case {
  operations: Parameters<typeof take>[0];
  service: string;
}

/** Returns the facts and the plan of a case. */
export function asked({ operations, service }: Case) {
  close_records();
  take(operations);
  const found = one("service", service).peek();
  if (!found) return null;
  const { seen_until, ...plan } = plan_of(found);
  // The page writes this moment with the phone's own offset.
  const seen = seen_until && new Date(seen_until).toISOString();
  return { facts: facts_of(found), plan: { ...plan, ...(seen && { seen_until: seen }) } };
}
