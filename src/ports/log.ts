export interface Log {
  info(what: Readonly<Record<string, unknown>>, message: string): void;
  error(what: Readonly<Record<string, unknown>>, message: string): void;
}
