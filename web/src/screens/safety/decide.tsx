// A decision: a named person says what they saw and why they go on. It is kept for ever.

import type { Finding } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { decide } from "../../gate/answer";
import { Signed } from "../../parts/signed";
import type { Entity } from "../../records/shapes";
import { reader_names, remember_reader } from "../../salon/alert_tests/alert_tests";
import { worker_name } from "../../salon/who";

interface DecideProps {
  service: Entity<"service">;
  finding: Finding;
  edition: string;
}

/** Returns the form, one tap away. */
export function Decide({ service, finding, edition }: DecideProps) {
  const [typed, put, forget] = useTyped(`decision ${finding.id}`, service.id, {
    by: worker_name.peek(),
    role: "",
    saw: "",
    why: "",
  });
  return (
    <Signed
      opens="Decide this"
      who="Who decides"
      names={reader_names.value}
      roles={finding.decided_by}
      reason="Why you go on"
      kept="Kept with this service for good, under this name."
      act="Keep this decision"
      typed={typed}
      onType={put}
      onKeep={(said) => {
        remember_reader(said.by);
        const decided = { rule: finding.id, basis: finding.basis, edition, ...said };
        void decide(service.id, decided).then(forget);
      }}
    />
  );
}
