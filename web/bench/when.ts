/*
 * Times in words.
 */

/** "just now", "5 minutes ago", "today 14:05", "3 May 14:05". @param iso ISO time */
export function showWhen(iso: string, now = Date.now()): string {
  const at = new Date(iso);
  const minutes = Math.floor((now - at.getTime()) / 60_000);
  if (minutes < 1) return 'just now';
  if (minutes < 60) return minutes === 1 ? 'a minute ago' : `${minutes} minutes ago`;
  const time = at.toLocaleTimeString('en', { hour: '2-digit', minute: '2-digit', hour12: false });
  if (at.toDateString() === new Date(now).toDateString()) return `today ${time}`;
  return `${at.toLocaleDateString('en', { day: 'numeric', month: 'long' })} ${time}`;
}
