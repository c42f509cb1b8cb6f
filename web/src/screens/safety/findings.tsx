// The rules' findings, worst first: what holds, what needs a decision, what is good to know.
import type { Finding, Question, SafetyReviewReply } from "../../api/shapes";
import type { Entity } from "../../records/shapes";
import { Decide } from "./decide";

const GROUPS = [
  ["holds", "What holds this service"],
  ["needs_decision", "Needs your decision"],
  ["good_to_know", "Good to know"],
] as const;
// The open decisions say these themselves.
const SAID_ELSEWHERE = "decision-unsigned";

interface FindingsProps {
  service: Entity<"service">;
  reply: SafetyReviewReply;
  /** Whether it answers the present records. */
  is_current: boolean;
  /** Questions shown above: a finding that only waits for them is not said twice. */
  asked: readonly Question[];
}

/** Returns the findings by group. */
export function Findings({ service, reply, is_current, asked }: FindingsProps) {
  const waits = new Set(asked.flatMap(({ closes }) => closes));
  const shown = reply.findings.filter(
    ({ id, certain, group }) =>
      id !== SAID_ELSEWHERE && (certain || group === "good_to_know" || !waits.has(id)),
  );
  return (
    <>
      {reply.rinse_now && (
        <p class="safety-stop">The mix is on and something holds it. Rinse now.</p>
      )}
      {GROUPS.map(([group, name]) => {
        const own = shown.filter((finding) => finding.group === group);
        if (own.length === 0) return null;
        return (
          <section key={group} class="stack" aria-label={name}>
            <h3>{name}</h3>
            {own.map((finding) => (
              <One key={finding.id} service={service} finding={finding} edition={reply.edition} />
            ))}
          </section>
        );
      })}
      {is_current && reply.may_start && (
        <p>Nothing holds this service now. Still watch the client.</p>
      )}
    </>
  );
}

function One({
  service,
  finding,
  edition,
}: {
  service: Entity<"service">;
  finding: Finding;
  edition: string;
}) {
  const { group, message, next, source, decision } = finding;
  // A stop's next step is not a tap away: there is nothing else to do.
  const holds = group === "holds";
  return (
    <div class="safety-finding">
      <p class={holds ? "safety-stop" : ""}>{message}</p>
      {decision && (
        <p class="quiet">
          {decision.by} decided: saw {decision.saw}; goes on because {decision.why}.
        </p>
      )}
      {holds && <p>{next}</p>}
      <details>
        <summary>{holds ? "The source" : "Next step and source"}</summary>
        {!holds && <p>{next}</p>}
        <p class="quiet">{source}</p>
      </details>
      {group === "needs_decision" && (
        <Decide service={service} finding={finding} edition={edition} />
      )}
    </div>
  );
}
