// Four steps that do what sliding does.
import { moved, type Spot, type Tones } from "./places";

const STEPS = [
  ["Lighter", { lighter: 1 }],
  ["Deeper", { lighter: -1 }],
  ["Cooler", { warmer: -1 }],
  ["Warmer", { warmer: 1 }],
] as const;

interface StepsProps {
  spot: Spot | null;
  tones: Tones;
  onStep: (by: { lighter?: number; warmer?: number }) => void;
}

/** Returns the steps; one that leads past the edge can be reached and does nothing. */
export function Steps({ spot, tones, onStep }: StepsProps) {
  return (
    <div class="field-steps">
      {STEPS.map(([word, by]) => (
        <button
          key={word}
          type="button"
          aria-disabled={spot !== null && !moved(spot, by, tones)}
          onClick={() => onStep(by)}
        >
          {word}
        </button>
      ))}
    </div>
  );
}
