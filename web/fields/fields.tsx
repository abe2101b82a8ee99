/*
 * The other fields of the panels: a choice, a switch, a line of text, a row of choices, and the card that holds them.
 */
import { useId, useState } from 'preact/hooks';
import type { ComponentChildren, JSX } from 'preact';

export interface Choice<Value extends string> {
  readonly value: Value;
  readonly title: string;
}

interface SelectFieldProps<Value extends string> {
  readonly label: string;
  readonly value: Value;
  readonly choices: readonly Choice<Value>[];
  readonly isLabelHidden?: boolean;
  readonly onChange: (value: Value) => void;
}

export function SelectField<Value extends string>(props: SelectFieldProps<Value>): JSX.Element {
  const id = useId();
  return (
    <div class={`field select${props.isLabelHidden === true ? ' bare' : ''}`}>
      <label for={id} class={props.isLabelHidden === true ? 'unseen' : ''}>
        {props.label}
      </label>
      <select
        id={id}
        value={props.value}
        onChange={(event) => {
          const chosen = props.choices.find((choice) => choice.value === event.currentTarget.value);
          if (chosen) props.onChange(chosen.value);
        }}
      >
        {props.choices.map((choice) => (
          <option key={choice.value} value={choice.value} selected={choice.value === props.value}>
            {choice.title}
          </option>
        ))}
      </select>
    </div>
  );
}

interface SwitchFieldProps {
  readonly label: string;
  readonly isOn: boolean;
  readonly note?: string;
  readonly onChange: (isOn: boolean) => void;
}

export function SwitchField({ label, isOn, note, onChange }: SwitchFieldProps): JSX.Element {
  const id = useId();
  return (
    <div class="field switch">
      <label for={id}>
        {label}
        {note !== undefined && <small>{note}</small>}
      </label>
      <input id={id} type="checkbox" role="switch" checked={isOn} onChange={(event) => onChange(event.currentTarget.checked)} />
    </div>
  );
}

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly isLabelHidden?: boolean;
  readonly placeholder?: string;
  readonly onChange: (value: string) => void;
}

export function TextField({ label, value, isLabelHidden, placeholder, onChange }: TextFieldProps): JSX.Element {
  const id = useId();
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const take = (): void => {
    if (draft !== undefined && draft !== value) onChange(draft);
    setDraft(undefined);
  };
  return (
    <div class={`field text${isLabelHidden === true ? ' bare' : ''}`}>
      <label for={id} class={isLabelHidden === true ? 'unseen' : ''}>
        {label}
      </label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        maxLength={200}
        value={draft ?? value}
        placeholder={placeholder}
        onInput={(event) => setDraft(event.currentTarget.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur();
          if (event.key === 'Escape' && draft !== undefined) {
            setDraft(undefined);
            event.stopPropagation();
          }
        }}
      />
    </div>
  );
}

interface ChoiceRowProps<Value extends string> {
  readonly label: string;
  readonly value: Value | undefined;
  readonly choices: readonly Choice<Value>[];
  readonly onChange: (value: Value) => void;
}

/** A few choices side by side, as radio buttons. */
export function ChoiceRow<Value extends string>({ label, value, choices, onChange }: ChoiceRowProps<Value>): JSX.Element {
  const name = useId();
  return (
    <fieldset class="choice-row">
      <legend class="unseen">{label}</legend>
      {choices.map((choice) => (
        <label key={choice.value}>
          <input type="radio" name={name} checked={choice.value === value} onChange={() => onChange(choice.value)} />
          <span>{choice.title}</span>
        </label>
      ))}
    </fieldset>
  );
}

interface CardProps {
  readonly title?: string;
  readonly action?: ComponentChildren;
  readonly children: ComponentChildren;
}

export function Card({ title, action, children }: CardProps): JSX.Element {
  return (
    <section class="card">
      {title !== undefined && (
        <header>
          <h3>{title}</h3>
          {action}
        </header>
      )}
      {children}
    </section>
  );
}
