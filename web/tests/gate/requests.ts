// A service's records, given as operations, put before the safety rules: what the page would send.

import { request_of } from "../../src/gate/review";
import { bring_check } from "../../src/records/checked";
import { close_records, one, take } from "../../src/records/read";

await bring_check();

/** Records as the operations that made them, and the service that is asked about. */
export interface Case {
  operations: Parameters<typeof take>[0];
  service: string;
}

/** Returns what the page sends of a case. */
export function asked({ operations, service }: Case) {
  close_records();
  take(operations);
  const found = one("service", service).peek();
  return found ? request_of(found, Date.now()) : null;
}
