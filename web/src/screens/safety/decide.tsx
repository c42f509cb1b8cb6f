// A decision: a named person says what they saw and why they go on. It is kept for ever.
import { useState } from "preact/hooks";
import type { Finding } from "../../api/shapes";
import { decide } from "../../gate/answer";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { Who } from "../../parts/who";
import { ROLES } from "../../parts/who/roles";
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
  const [by, put_by] = useState(worker_name.peek());
  const [role, put_role] = useState<string>();
  const [saw, put_saw] = useState("");
  const [why, put_why] = useState("");
  const roles = finding.decided_by.map((one) => [one, ROLES[one] ?? one] as const);
  const chosen = role ?? (roles.length === 1 ? roles[0]?.[0] : undefined);
  const whole = by.trim() && chosen && saw.trim() && why.trim();
  const keep = () => {
    if (!chosen) return;
    const said = { by: by.trim(), role: chosen, saw: saw.trim(), why: why.trim() };
    remember_reader(said.by);
    void decide(service.id, { rule: finding.id, basis: finding.basis, edition, ...said });
  };
  return (
    <details>
      <summary>Decide this</summary>
      <div class="stack">
        <Who legend="Who decides" names={reader_names.value} value={by} onName={put_by} />
        <Choice legend="As" options={roles} value={chosen} onChoose={put_role} />
        <TextField label="What you saw" value={saw} onType={put_saw} />
        <TextField label="Why you go on" value={why} onType={put_why} />
        <p class="quiet">Kept with this service for ever, under this name.</p>
        <button type="button" class="safety-answer" disabled={!whole} onClick={keep}>
          Keep this decision
        </button>
      </div>
    </details>
  );
}
