/** A picture's size in pixels, and the class that shows it on its kind of screen. */
export interface Frame {
  readonly name: 'wide' | 'slim';
  readonly width: number;
  readonly height: number;
}

/** One with an axis across that carries about so many ticks. */
export interface TickedFrame extends Frame {
  readonly xTicks: number;
}
