import { useId } from 'preact/hooks';

type Props<T extends string> = {
  label: string;
  value: T;
  options: readonly T[];
  words?: Partial<Record<T, string>>;
  onChange: (value: T) => void;
};

/** A choice that takes effect at once, outside any form. */
export function PlainSelect<const T extends string>(props: Props<T>) {
  const { label, value, options, words, onChange } = props;
  const id = useId();
  return (
    <div class="field">
      <label class="field-label" for={id}>
        {label}
      </label>
      <select
        id={id}
        value={value}
        onChange={({ currentTarget }) => {
          const chosen = options.find((option) => option === currentTarget.value);
          if (chosen !== undefined) onChange(chosen);
        }}
      >
        {options.map((option) => (
          <option key={option} value={option}>
            {words?.[option] ?? option}
          </option>
        ))}
      </select>
    </div>
  );
}
