import { type Role, roles } from '#shared/roles.ts';
import { roleWords } from '../roleWords.ts';

type Props = { held: readonly Role[]; onChange: (held: readonly Role[]) => void };

export function RoleChoice({ held, onChange }: Props) {
  const toggled = (role: Role) =>
    roles.filter((each) => (each === role ? !held.includes(role) : held.includes(each)));
  return (
    <fieldset class="field choice">
      <legend class="field-label">Roles</legend>
      <span class="field-hint">One or more; whoever may do anything may read everything.</span>
      <div class="role-choice">
        {roles.map((role) => (
          <label key={role} class="choice-option">
            <input
              type="checkbox"
              checked={held.includes(role)}
              onChange={() => onChange(toggled(role))}
            />
            <span>
              {roleWords[role].name}
              <small>{roleWords[role].may}</small>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
