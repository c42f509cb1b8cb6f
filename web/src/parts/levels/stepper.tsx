// Moves a level by half a level at a time, over the levels with drawn references.
import { LEVELS } from "../../references";
import { ScaleStepper } from "../stepper/scale";
import { level_words } from "../words";

interface LevelStepperProps {
  label: string;
  level: number;
  onLevel: (level: number) => void;
  fault?: string | undefined;
}

/** Returns the stepper. */
export function LevelStepper({ label, level, onLevel, fault }: LevelStepperProps) {
  return (
    <ScaleStepper
      label={label}
      words={level_words(level)}
      less="half a level deeper"
      more="half a level lighter"
      scale={LEVELS}
      value={level}
      onValue={onLevel}
      fault={fault}
    />
  );
}
