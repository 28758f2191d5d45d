/** 0 done; 1 something was refused or set aside; 2 wrong use; 3 the store or a service is out of order. */
export const setStatus = (status: 0 | 1 | 2 | 3): void => {
  process.exitCode = Math.max(Number(process.exitCode ?? 0), status);
};
