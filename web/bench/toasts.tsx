/*
 * Short words at the edge of the bench.
 */
import type { JSX } from 'preact';
import { Icon } from '../fields/icons.tsx';
import { toasts } from '../state.ts';
import { dismiss } from '../toast.ts';

export function Toasts(): JSX.Element {
  return (
    <div class="toasts" role="region" aria-label="Messages">
      {toasts.value.map((toast) => (
        <div key={toast.id} class={`toast ${toast.severity}`} role={toast.severity === 'severe' ? 'alert' : 'status'}>
          <Icon name={toast.severity} />
          <div>
            <p>{toast.what}</p>
            {toast.mend !== undefined && <p class="mend">{toast.mend}</p>}
          </div>
          <button type="button" class="quiet" aria-label="Put this message away" onClick={() => dismiss(toast.id)}>
            <Icon name="close" />
          </button>
        </div>
      ))}
    </div>
  );
}
