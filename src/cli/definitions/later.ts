/** Returns an action that is loaded when its command runs, so that no command waits for what others need. */
export const later =
  <Typed extends readonly unknown[]>(load: () => Promise<(...typed: Typed) => unknown>) =>
  async (...typed: Typed): Promise<void> => {
    await (await load())(...typed);
  };
