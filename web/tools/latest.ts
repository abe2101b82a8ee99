/*
 * Asks that come faster than they are answered: one at a time, and of those that wait only the newest.
 */

/** @returns a function that asks; `onAnswer` hears each answer that is still the newest when it comes, never a stale one */
export function latestOnly<Question, Answer>(
  ask: (question: Question) => Promise<Answer>,
  onAnswer: (answer: Answer, question: Question) => void,
): { readonly ask: (question: Question) => void; readonly forget: () => void } {
  let isBusy = false;
  let waiting: { readonly question: Question } | undefined;
  let round = 0;

  async function go(question: Question): Promise<void> {
    isBusy = true;
    const mine = round;
    try {
      const answer = await ask(question);
      if (mine === round) onAnswer(answer, question);
    } catch {
      // A preview that cannot be made is not shown; the command itself says what is wrong.
    }
    isBusy = false;
    const next = waiting;
    waiting = undefined;
    if (next) void go(next.question);
  }

  return {
    ask: (question) => {
      if (isBusy) waiting = { question };
      else void go(question);
    },
    forget: () => {
      round++;
      waiting = undefined;
    },
  };
}
