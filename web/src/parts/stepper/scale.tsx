// A stepper along a scale of drawn values, each button to the next one.
import { Stepper } from ".";

interface ScaleStepperProps {
  label: string;
  words: string;
  less: string;
  more: string;
  /** Ascending. The value may lie between two of them. */
  scale: readonly number[];
  value: number;
  onValue: (value: number) => void;
  fault?: string | undefined;
}

/** Returns the stepper; a side ends with the scale. */
export function ScaleStepper({ scale, value, onValue, ...said }: ScaleStepperProps) {
  const below = scale.findLast((at) => at < value);
  const above = scale.find((at) => at > value);
  return (
    <Stepper
      {...said}
      onLess={below === undefined ? undefined : () => onValue(below)}
      onMore={above === undefined ? undefined : () => onValue(above)}
    />
  );
}
