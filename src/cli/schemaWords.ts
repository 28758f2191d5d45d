import type { z } from 'zod';
import type { Wrong } from './importSchema.js';

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with names',
  record: 'names with values',
};

/** Returns what is wrong in words that a person can act on; those of a rule of our own stand as they are. */
export function wordsOf(issue: z.core.$ZodIssue): Wrong {
  return { path: issue.path, message: said(issue) };
}

function said(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined ? 'is missing' : `must be ${TYPES[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return `must be one of: ${issue.values.map(String).join(', ')}`;
    case 'unrecognized_keys':
      return `there is no such name: ${issue.keys.join(', ')}`;
    case 'too_small':
      if (issue.origin === 'string' || issue.origin === 'array') return 'must not be empty';
      return issue.inclusive ? `must be at least ${issue.minimum}` : `must be more than ${issue.minimum}`;
    case 'too_big':
      return `must be at most ${issue.maximum}${issue.origin === 'string' ? ' characters' : ''}`;
    case 'invalid_format':
      return issue.format === 'email' ? 'must be a mail address' : issue.message;
    default:
      return issue.message;
  }
}
