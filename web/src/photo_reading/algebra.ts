// The little linear algebra of a fit: symmetric positive matrices of up to about 60 rows.

export type Matrix = number[][];

/** Returns the lower triangle L with L·Lᵀ = `matrix`, which must be symmetric and positive. */
export function cholesky(matrix: Matrix): Matrix {
  const lower: Matrix = matrix.map((row) => row.map(() => 0));
  for (const [i, row] of matrix.entries()) {
    const li = lower[i] as number[];
    for (let j = 0; j <= i; j += 1) {
      const lj = lower[j] as number[];
      let sum = row[j] as number;
      for (let k = 0; k < j; k += 1) sum -= (li[k] as number) * (lj[k] as number);
      if (i === j && !(sum > 0)) throw new Error("A matrix of the fit is not positive.");
      li[j] = i === j ? Math.sqrt(sum) : sum / (lj[j] as number);
    }
  }
  return lower;
}

/** Returns x with L·x = `right`. */
export function forward(lower: Matrix, right: readonly number[]): number[] {
  const x: number[] = [];
  for (const [i, row] of lower.entries()) {
    let sum = right[i] as number;
    for (let k = 0; k < i; k += 1) sum -= (row[k] as number) * (x[k] as number);
    x.push(sum / (row[i] as number));
  }
  return x;
}

/** Returns x with Lᵀ·x = `right`. */
export function backward(lower: Matrix, right: readonly number[]): number[] {
  const x = [...right];
  for (let i = lower.length - 1; i >= 0; i -= 1) {
    for (let k = i + 1; k < lower.length; k += 1) {
      x[i] = (x[i] as number) - (lower[k]?.[i] as number) * (x[k] as number);
    }
    x[i] = (x[i] as number) / (lower[i]?.[i] as number);
  }
  return x;
}

/** Returns x with L·Lᵀ·x = `right`. */
export function solve(lower: Matrix, right: readonly number[]): number[] {
  return backward(lower, forward(lower, right));
}

export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let at = 0; at < a.length; at += 1) sum += (a[at] as number) * (b[at] as number);
  return sum;
}

/** Returns Aᵀ·A of rows. */
export function gram(rows: Matrix, columns: number): Matrix {
  const sums: Matrix = Array.from({ length: columns }, () => new Array<number>(columns).fill(0));
  for (const row of rows) {
    for (let i = 0; i < columns; i += 1) {
      const [target, value] = [sums[i] as number[], row[i] as number];
      for (let j = 0; j < columns; j += 1)
        target[j] = (target[j] as number) + value * (row[j] as number);
    }
  }
  return sums;
}
