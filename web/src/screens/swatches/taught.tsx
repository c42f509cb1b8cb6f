// What the swatches taught, how sure that is, and the tap that puts it in force or takes it back.
import { waiting_words } from "../../engine/where";
import { Stopped, Working } from "../../parts/notice";
import type { Entity } from "../../records/shapes";
import { in_force } from "../../shelf/known";
import { read_swatches } from "../../swatches/swatches";
import {
  calibrations_of,
  fitting,
  go_back,
  is_of_all,
  median,
  put_in_force,
} from "../../swatches/taught";

/** Returns the part; one sentence while nothing was read. */
export function Taught({ line }: { line: Entity<"line"> }) {
  const now = in_force(line);
  const read = read_swatches(line.id).length;
  const asked = fitting.asked.value;
  return (
    <div class="stack swatch-taught">
      <p class="swatch-known">{known_words(now)}</p>
      {read === 0 && (
        <p class="quiet">
          Paint a few swatches, dry and read them. Mixes then go by what your tubes really do.
        </p>
      )}
      {asked.state === "working" && (
        <Working what="Working out what they teach…" waiting={waiting_words.value} />
      )}
      {asked.state === "failed" && (
        <Stopped sentence={asked.sentence} onAgain={() => fitting.again()}>
          {asked.faults.map(({ pointer, message }) => (
            <p key={pointer}>{message}</p>
          ))}
        </Stopped>
      )}
      {asked.state === "answered" && !(now && is_of_all(now)) && (
        <>
          <p>
            {counted(read)} read. Each left out in turn, the others foretell it to{" "}
            {off(median(asked.answer.reply.fits.map((fit) => fit.delta_e_left_out)))}.
          </p>
          <button
            type="button"
            class="swatch-use"
            onClick={() => void put_in_force(line, asked.answer.reply)}
          >
            Mix by {read === 1 ? "this swatch" : `these ${read} swatches`}
          </button>
        </>
      )}
      {now && (
        <details>
          <summary>Go back</summary>
          <div class="stack">
            <p>New mixes change; records keep what they were told.</p>
            {calibrations_of(line.id)
              .filter(({ id }) => id !== now.id)
              .map((each) => (
                <button key={each.id} type="button" onClick={() => void go_back(line, each.id)}>
                  To {counted(each.swatches?.length ?? 0)}, {(each.at ?? "").slice(0, 10)}
                </button>
              ))}
            <button type="button" onClick={() => void go_back(line, null)}>
              To the labels
            </button>
          </div>
        </details>
      )}
    </div>
  );
}

function known_words(now: Entity<"calibration"> | undefined): string {
  if (!now) return "Mixes go by the labels.";
  return `Mixes go by ${counted(now.swatches?.length ?? 0)}, right to ${off(now.error)}.`;
}

function counted(swatches: number): string {
  return swatches === 1 ? "1 swatch" : `${swatches} swatches`;
}

/** A difference as one sees it: 1 is just seen side by side. */
function off(delta_e: number | undefined): string {
  if (delta_e === undefined) return "an unknown difference";
  const seen = delta_e < 1 ? "which nobody sees" : delta_e < 3 ? "just seen" : "plainly seen";
  return `${delta_e.toFixed(1)} ΔE, ${seen}`;
}
