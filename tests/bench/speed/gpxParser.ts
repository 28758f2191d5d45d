/** gpxparser puts a browser's own objects in the place of Node's, such as URL, which the program needs as they were. */
const before = Object.getOwnPropertyDescriptors(globalThis);
const { default: GpxParser } = await import('gpxparser');
for (const [name, own] of Object.entries(before))
  if (Object.getOwnPropertyDescriptor(globalThis, name)?.value !== own.value)
    Object.defineProperty(globalThis, name, own);

export { GpxParser };
