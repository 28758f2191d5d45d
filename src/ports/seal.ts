/** Signs texts with this installation's secret. */
export interface Seal {
  mark(text: string): string;
  /** Compares in constant time. */
  fits(text: string, mark: string): boolean;
}
