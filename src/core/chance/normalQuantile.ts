const A = [
  -39.6968302866538, 220.946098424521, -275.928510446969, 138.357751867269, -30.6647980661472,
  2.50662827745924,
];
const B = [-54.4760987982241, 161.585836858041, -155.698979859887, 66.8013118877197, -13.2806815528857, 1];
const C = [
  -0.00778489400243029, -0.322396458041136, -2.40075827716184, -2.54973253934373, 4.37466414146497,
  2.93816398269878,
];
const D = [0.00778469570904146, 0.32246712907004, 2.445134137143, 3.75440866190742, 1];
const TAIL = 0.02425;

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0);

/**
 * Returns the value that a standard normal variable stays below with the given probability, itself between 0 and 1.
 * Source: P. J. Acklam's rational approximation, relative error below 1.15e-9 (from memory).
 */
export const normalQuantile = (probability: number): number => {
  if (probability > 0.5) return -normalQuantile(1 - probability);
  if (probability < TAIL) {
    const t = Math.sqrt(-2 * Math.log(probability));
    return polynomial(C, t) / polynomial(D, t);
  }
  const centred = probability - 0.5;
  const square = centred * centred;
  return (centred * polynomial(A, square)) / polynomial(B, square);
};
