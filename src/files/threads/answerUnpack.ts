import { ServiceError } from '../../errors.js';
import type { FileMember } from '../../ports/reader.js';
import { openFile } from '../archives/openFile.js';
import { isWholeFile } from '../isWhole.js';
import type { UnpackAnswer, UnpackFault, UnpackRequest } from './unpackThread.js';

/** Answers one question; what is open stays so until it is read to its end or closed. */
export function unpacker(): (request: UnpackRequest) => Promise<UnpackAnswer> {
  const open = new Map<number, AsyncIterator<FileMember>>();
  const answerTo = async (request: UnpackRequest): Promise<UnpackAnswer> => {
    const { id } = request;
    switch (request.do) {
      case 'whole':
        return { id, whole: await isWholeFile(request.path) };
      case 'open':
        open.set(id, openFile(request.from, request.name));
        return { id, member: null };
      case 'next': {
        const next = await open.get(request.opened)?.next();
        return { id, member: next === undefined || next.done ? null : next.value };
      }
      case 'close': {
        await open.get(request.opened)?.return?.();
        open.delete(request.opened);
        return { id, member: null };
      }
    }
  };
  return async (request) => {
    try {
      return await answerTo(request);
    } catch (error) {
      return { id: request.id, fault: faultOf(error) };
    }
  };
}

function faultOf(error: unknown): UnpackFault {
  const message = error instanceof Error ? error.message : String(error);
  if (!(error instanceof ServiceError) || error.code !== 'disk-failed') return { message, disk: null };
  const { code = error.code, path = '' } = (error.cause ?? {}) as NodeJS.ErrnoException;
  return { message, disk: { code, path } };
}

/** What an answer carries along instead of having it copied; small buffers share their memory with others. */
export function movedWith(answer: UnpackAnswer): ArrayBuffer[] {
  if (!('member' in answer) || answer.member === null || !('bytes' in answer.member)) return [];
  const { bytes } = answer.member;
  return bytes.buffer instanceof ArrayBuffer && bytes.length === bytes.buffer.byteLength
    ? [bytes.buffer]
    : [];
}
