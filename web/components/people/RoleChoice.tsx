import { type Holder, type Role, roles } from '#shared/roles.ts';
import { roleWords } from '../../roleWords.ts';
import { sites } from '../../sites.ts';

type Props = { held: Holder; onChange: (held: Holder) => void };

/** The roles of a person: held everywhere, and where there are several sites held at one only. */
export function RoleChoice({ held, onChange }: Props) {
  const isOfSites = sites.value.length > 0;
  return (
    <>
      <RoleBoxes
        legend={isOfSites ? 'Roles at every site' : 'Roles'}
        hint="One or more; whoever may do anything may read everything."
        choices={roles}
        held={held.roles}
        onChange={(everywhere) => onChange({ ...held, roles: everywhere })}
        isExplained
      />
      {isOfSites && (
        <p class="prose">
          Or at one site only. Strains, media, sites and accounts stay with a head brewer of every
          site.
        </p>
      )}
      {sites.value.map(({ id, name }) => (
        <RoleBoxes
          key={id}
          legend={`Only at ${name}`}
          choices={roles.filter((role) => !held.roles.includes(role))}
          held={held.siteRoles.filter(({ siteId }) => siteId === id).map(({ role }) => role)}
          onChange={(here) =>
            onChange({
              ...held,
              siteRoles: [
                ...held.siteRoles.filter(({ siteId }) => siteId !== id),
                ...here.map((role) => ({ siteId: id, role })),
              ],
            })
          }
        />
      ))}
    </>
  );
}

type BoxesProps = {
  legend: string;
  hint?: string;
  choices: readonly Role[];
  held: readonly Role[];
  onChange: (held: Role[]) => void;
  isExplained?: boolean;
};

function RoleBoxes({ legend, hint, choices, held, onChange, isExplained = false }: BoxesProps) {
  const toggled = (role: Role) =>
    roles.filter((each) => (each === role ? !held.includes(role) : held.includes(each)));
  return (
    <fieldset class="field choice">
      <legend class="field-label">{legend}</legend>
      {hint !== undefined && <span class="field-hint">{hint}</span>}
      <div class={isExplained ? 'role-choice' : 'choice-row'}>
        {choices.map((role) => (
          <label key={role} class="choice-option">
            <input
              type="checkbox"
              checked={held.includes(role)}
              onChange={() => onChange(toggled(role))}
            />
            <span>
              {roleWords[role].name}
              {isExplained && <small>{roleWords[role].may}</small>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** What is sent: a role held everywhere is not held at one site besides. */
export const asSent = ({ roles: everywhere, siteRoles }: Holder) => ({
  roles: [...everywhere],
  siteRoles: siteRoles.filter(({ role }) => !everywhere.includes(role)),
});
