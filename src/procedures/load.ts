import * as v from 'valibot';
import { checkProcedure } from './check.ts';
import { fault, type Fault } from './fault.ts';
import { jsonLines } from './jsonLines.ts';
import { procedureSchema, type Procedure } from './schema.ts';

/** A procedure that may be walked, or everything that is wrong with it; never a part of one. */
export type Loaded =
  | { readonly ok: true; readonly procedure: Procedure }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** The longest procedure file that is read, in characters. */
export const longestFile = 200_000;

/**
 * Read a procedure file: each fault comes with its line.
 *
 * @param further - what else is asked of a procedure that is sound by itself
 */
export function loadProcedure(
  text: string,
  further: (procedure: Procedure) => readonly Fault[] = () => [],
): Loaded {
  if (text.length > longestFile) return refused([fault('wrong_form', '', 'too long')]);
  const lines = jsonLines(text);
  if ('brokenAt' in lines)
    return { ok: false, faults: [{ ...fault('not_json', ''), line: lines.brokenAt }] };
  const loaded = procedureOf(JSON.parse(text));
  const repeated = lines.repeated.map((path) => fault('repeated_key', path, path));
  const faults = [...repeated, ...(loaded.ok ? further(loaded.procedure) : loaded.faults)];
  if (loaded.ok && faults.length === 0) return loaded;
  return refused(
    faults
      .map((each) => ({ ...each, line: lines.lineOf(each.path) }))
      .sort((one, other) => one.line - other.line),
  );
}

/**
 * A procedure that was checked before it was built in. Only its form is read again: the order of its
 * steps under every choice takes as long as all else at the start.
 *
 * @throws {v.ValiError} where it has another form
 */
export function checkedBefore(data: unknown): Procedure {
  return v.parse(procedureSchema, data);
}

/** Check data that was parsed already, from a file or a backup. Never throws. */
export function procedureOf(data: unknown): Loaded {
  const parsed = v.safeParse(procedureSchema, data);
  if (!parsed.success)
    return refused(
      parsed.issues.map((issue) => fault('wrong_form', v.getDotPath(issue) ?? '', issue.message)),
    );
  const faults = checkProcedure(parsed.output);
  return faults.length === 0 ? { ok: true, procedure: parsed.output } : refused(faults);
}

function refused(faults: readonly Fault[]): Loaded {
  return { ok: false, faults };
}
