const utf8 = new TextDecoder();
export const textIn = (bytes: Uint8Array, from: number, to: number): string =>
  utf8.decode(bytes.subarray(from, to));
