// The chosen mix of a try, to be kept as a formula.
import type { Formula } from "../api/shapes";
import { keep_chosen } from "../salon/formulas";
import { KeepFormula } from "../screens/formulas/keep";

/** Returns the way to keep it; `usual` is the name it gets unless another is typed. */
export function KeepChosen({ chosen, usual }: { chosen: Formula; usual: string }) {
  return <KeepFormula about="" usual={usual} keep={(name) => keep_chosen(name, chosen)} />;
}
