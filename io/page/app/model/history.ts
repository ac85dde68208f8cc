// Undo and redo over values that are never altered in place.

export interface History<T> {
  past: readonly T[];
  now: T;
  future: readonly T[];
}

const kKept = 200; // steps that can be undone

export function begin<T>(now: T): History<T> {
  return { past: [], now, future: [] };
}

/** The next value; what had been undone is forgotten. The same value again is no step. */
export function advance<T>(history: History<T>, now: T): History<T> {
  if (now === history.now) return history;
  return { past: [...history.past, history.now].slice(-kKept), now, future: [] };
}

export function undo<T>(history: History<T>): History<T> {
  const before = history.past[history.past.length - 1];
  if (before === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    now: before,
    future: [history.now, ...history.future],
  };
}

export function redo<T>(history: History<T>): History<T> {
  const after = history.future[0];
  if (after === undefined) return history;
  return {
    past: [...history.past, history.now],
    now: after,
    future: history.future.slice(1),
  };
}
