// A decision: a named person says what they saw and why they go on. It is kept for ever.

import type { Finding } from "../../api/shapes";
import { useTyped } from "../../device/typed";
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
  const [typed, put, forget] = useTyped(`decision ${finding.id}`, service.id, {
    by: worker_name.peek(),
    role: "",
    saw: "",
    why: "",
  });
  const { by, role, saw, why } = typed;
  const roles = finding.decided_by.map((one) => [one, ROLES[one] ?? one] as const);
  const chosen = role || (roles.length === 1 ? roles[0]?.[0] : undefined);
  const whole = by.trim() && chosen && saw.trim() && why.trim();
  const keep = () => {
    if (!chosen) return;
    const said = { by: by.trim(), role: chosen, saw: saw.trim(), why: why.trim() };
    remember_reader(said.by);
    void decide(service.id, { rule: finding.id, basis: finding.basis, edition, ...said }).then(
      forget,
    );
  };
  return (
    <details>
      <summary>Decide this</summary>
      <div class="stack">
        <Who
          legend="Who decides"
          names={reader_names.value}
          value={by}
          onName={(name) => put({ ...typed, by: name })}
        />
        <Choice
          legend="As"
          options={roles}
          value={chosen}
          onChoose={(as) => put({ ...typed, role: as })}
        />
        <TextField
          label="What you saw"
          value={saw}
          onType={(words) => put({ ...typed, saw: words })}
        />
        <TextField
          label="Why you go on"
          value={why}
          onType={(words) => put({ ...typed, why: words })}
        />
        <p class="quiet">Kept with this service for good, under this name.</p>
        <button type="button" class="safety-answer" disabled={!whole} onClick={keep}>
          Keep this decision
        </button>
      </div>
    </details>
  );
}
