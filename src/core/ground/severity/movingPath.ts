/**
 * Continuous ground as it was ridden: nodes of moving steps, a column each. A new path begins where the ground is
 * not continuous (span end, gap, lift); a short halt inside a span does not cut it.
 * Units: xM cumulative moving metres; zM elevation in metres or NaN; tS cumulative moving seconds; lat, lon degrees
 * or NaN; speedMps device speed or NaN.
 */
export interface MovingPath {
  readonly xM: Float64Array;
  readonly zM: Float64Array;
  readonly tS: Float64Array;
  readonly lat: Float64Array;
  readonly lon: Float64Array;
  readonly speedMps: Float64Array;
}
