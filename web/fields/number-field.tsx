/*
 * A number with its unit: typed (in any unit that fits), stepped by the arrow keys, or dragged by its label. One change on Enter, on leaving
 * the field, or at the end of a drag; Escape puts the old value back.
 */
import { useId, useRef, useState } from 'preact/hooks';
import type { JSX, TargetedKeyboardEvent, TargetedPointerEvent } from 'preact';
import type { Quantity } from './quantity.ts';
import { formatQuantity, parseQuantity, shownFactor } from './quantity.ts';

interface NumberFieldProps {
  readonly label: string;
  readonly value: number;
  readonly quantity: Quantity;
  readonly min?: number;
  readonly max?: number;
  readonly isLabelHidden?: boolean;
  readonly isDisabled?: boolean;
  readonly hint?: string;
  /** Told while the value is being dragged or stepped, before it is taken. */
  readonly onPreview?: (value: number) => void;
  readonly onChange: (value: number) => void;
}

export function NumberField(props: NumberFieldProps): JSX.Element {
  const { label, value, quantity, min = -Infinity, max = Infinity, onChange, onPreview } = props;
  const id = useId();
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const [isWrong, setWrong] = useState(false);
  const drag = useRef<{ readonly x: number; readonly from: number; to: number } | undefined>(undefined);
  const unit = shownFactor(quantity);
  const clamp = (next: number): number => Math.min(max, Math.max(min, next));

  function take(text: string): void {
    const parsed = parseQuantity(text, quantity);
    if (parsed === undefined) return setWrong(true);
    setDraft(undefined);
    setWrong(false);
    const next = clamp(parsed);
    // Compare as shown: leaving a field untouched must not change the job by a rounding.
    if (formatQuantity(next, quantity) !== formatQuantity(value, quantity)) onChange(next);
  }

  function step(times: number): void {
    const current = draft === undefined ? value : (parseQuantity(draft, quantity) ?? value);
    const next = clamp(current + times * quantity.step * unit);
    setDraft(formatQuantity(next, quantity));
    setWrong(false);
    onPreview?.(next);
  }

  const onKeyDown = (event: TargetedKeyboardEvent<HTMLInputElement>): void => {
    const times = event.shiftKey ? 10 : 1;
    if (event.key === 'ArrowUp') step(times);
    else if (event.key === 'ArrowDown') step(-times);
    else if (event.key === 'Enter') take(event.currentTarget.value);
    else if (event.key === 'Escape' && draft !== undefined) {
      setDraft(undefined);
      setWrong(false);
      event.stopPropagation();
    } else return;
    event.preventDefault();
  };

  const onPointerDown = (event: TargetedPointerEvent<HTMLLabelElement>): void => {
    if (props.isDisabled === true || event.button !== 0) return;
    drag.current = { x: event.clientX, from: value, to: value };
    event.currentTarget.setPointerCapture(event.pointerId);
  };
  const onPointerMove = (event: TargetedPointerEvent<HTMLLabelElement>): void => {
    if (!drag.current || Math.abs(event.clientX - drag.current.x) < 3) return;
    const moved = Math.round((event.clientX - drag.current.x) / 2) * quantity.step * unit * (event.shiftKey ? 10 : 1);
    drag.current.to = clamp(drag.current.from + moved);
    setDraft(formatQuantity(drag.current.to, quantity));
    onPreview?.(drag.current.to);
  };
  const onPointerUp = (): void => {
    const ended = drag.current;
    drag.current = undefined;
    if (ended && ended.to !== ended.from) take(formatQuantity(ended.to, quantity));
  };

  return (
    <div class={`field number${props.isLabelHidden === true ? ' bare' : ''}`}>
      <label
        for={id}
        class={props.isLabelHidden === true ? 'unseen' : 'scrub'}
        title="Drag sideways to change"
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={() => {
          drag.current = undefined;
          setDraft(undefined);
        }}
      >
        {label}
      </label>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={draft ?? formatQuantity(value, quantity)}
        disabled={props.isDisabled === true}
        aria-invalid={isWrong}
        title={props.hint}
        onInput={(event) => setDraft(event.currentTarget.value)}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={(event) => draft !== undefined && take(event.currentTarget.value)}
        onKeyDown={onKeyDown}
      />
      {isWrong && (
        <span role="alert" class="wrong">
          Type a number{quantity.shown === '' ? '' : `, such as ${formatQuantity(value, quantity)}`}.
        </span>
      )}
    </div>
  );
}
