// One line of a record: what it is, and what was.
interface RowProps {
  name: string;
  value: string;
  /** When and by whom, in smaller words. */
  beside?: string;
}

/** Returns the line; what nobody wrote down is said to be so. */
export function Row({ name, value, beside = "" }: RowProps) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {value || "not recorded"}
        {beside && <span class="record-beside"> {beside}</span>}
      </dd>
    </div>
  );
}
