/** What a person may be; several at once, and each may read everything. */
export const roles = ['viewer', 'cellar', 'lab', 'brewer', 'head'] as const;
export type Role = (typeof roles)[number];

/** A role held at one site only. */
export type SiteRole = { siteId: string; role: Role };
export type Holder = { roles: readonly Role[]; siteRoles: readonly SiteRole[] };

/** What a person may do at a site: what they hold there, and what they hold everywhere. */
export const rolesAt = ({ roles: held, siteRoles }: Holder, siteId: string): Role[] =>
  roles.filter(
    (role) =>
      held.includes(role) || siteRoles.some((at) => at.role === role && at.siteId === siteId),
  );

/** What a person may do at any site at all. */
export const rolesAnywhere = ({ roles: held, siteRoles }: Holder): Role[] =>
  roles.filter((role) => held.includes(role) || siteRoles.some((at) => at.role === role));
