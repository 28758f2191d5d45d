import { z } from 'zod';
import type { WrongPart } from './importSchema.js';

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
export function wordsOf(issue: z.core.$ZodIssue): WrongPart {
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

/** Returns the names of a row's columns: of one that holds names of its own each with a dot, of one that does so freely a sample. */
export const columnsIn = (row: z.ZodObject): string[] =>
  Object.entries(row.shape).flatMap(([name, value]) => namesIn(name, value));

function namesIn(name: string, value: z.core.$ZodType): string[] {
  if (value instanceof z.ZodDefault || value instanceof z.ZodNullable || value instanceof z.ZodOptional)
    return namesIn(name, value.unwrap());
  if (value instanceof z.ZodUnion)
    return [...new Set(value.options.flatMap((one: z.core.$ZodType) => namesIn(name, one)))];
  if (value instanceof z.ZodObject) return columnsIn(value).map((inner) => `${name}.${inner}`);
  // A list of objects has no place in a cell.
  if (value instanceof z.ZodArray && value.element instanceof z.ZodObject) return [];
  return value instanceof z.ZodRecord ? [`${name}.…`] : [name];
}
