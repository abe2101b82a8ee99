/*
 * How Plastron says that something is wrong. A Failure is thrown when there is no honest result; a Finding travels with a result.
 * Both say what is wrong (in the maker's words, with the number), where it is, and the next act that mends it.
 */

/** Where a fault lies. Every field is optional; `faces` holds at most 20 so that the page can show them. */
export interface Where {
  readonly stage?: string;
  readonly item?: string;
  readonly file?: string;
  readonly line?: number;
  readonly byte?: number;
  readonly faces?: readonly number[];
  readonly at?: readonly number[];
}

/** The four fields that failures and findings share. */
export interface Account {
  /** `floor/short-name`, stable. */
  readonly code: string;
  readonly what: string;
  readonly where: Where;
  readonly mend: string;
}

export type Severity = 'note' | 'warning' | 'severe';

/** Something that a maker should know about a result that is nevertheless delivered. */
export interface Finding extends Account {
  readonly severity: Severity;
}

/** No honest result exists. Thrown, never returned; crosses to other threads as an `Account`. */
export class Failure extends Error implements Account {
  readonly code: string;
  readonly what: string;
  readonly where: Where;
  readonly mend: string;

  constructor(code: string, what: string, where: Where, mend: string, cause?: unknown) {
    super(`${code}: ${what}`, cause === undefined ? undefined : { cause });
    this.name = 'Failure';
    this.code = code;
    this.what = what;
    this.where = where;
    this.mend = mend;
  }
}

/** The plain object that a Failure becomes in a message, a report or a file. */
export function toAccount(failure: Account): Account {
  return { code: failure.code, what: failure.what, where: failure.where, mend: failure.mend };
}

/** The Failure that a plain object came from. */
export function fromAccount(account: Account): Failure {
  return new Failure(account.code, account.what, account.where, account.mend);
}

/** A finding in one line. */
export function finding(severity: Severity, code: string, what: string, where: Where, mend: string): Finding {
  return { severity, code, what, where, mend };
}
