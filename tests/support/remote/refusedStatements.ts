/**
 * What a database server takes of what a file understands, as a list of what is let through; it is
 * stricter than any server need be. From memory of the server's own list, no source at hand.
 */
const taken =
  /^(SELECT|WITH|VALUES|INSERT|REPLACE|UPDATE|DELETE|EXPLAIN|BEGIN|COMMIT|END|ROLLBACK|SAVEPOINT|RELEASE|CREATE (UNIQUE )?(TABLE|INDEX|TRIGGER|VIEW)|DROP (TABLE|INDEX|TRIGGER|VIEW)|ALTER TABLE)\b/;
const pragmasRead =
  /^PRAGMA (table_list|index_list|table_info|table_xinfo|index_info|index_xinfo|database_list|function_list|compile_options|foreign_keys|foreign_key_list|foreign_key_check|integrity_check|quick_check|page_count|freelist_count|user_version|data_version|encoding)( ?\([\w ]*\))?$/;
const pragmasSet = /^PRAGMA (foreign_keys) ?= ?\w+$/;

/** Whether the stand-in for a server refuses a statement, as a server would. */
export function isRefused(sql: string): boolean {
  const words = sql
    .replace(/--[^\n]*|\/\*[\s\S]*?\*\//g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/[; ]+$/, '')
    .trim();
  const head = words.slice(0, 80).toUpperCase();
  if (!head.startsWith('PRAGMA')) return !taken.test(head);
  const pragma = words.replace(/^pragma/i, 'PRAGMA').replace(/ main\./i, ' ');
  return !pragmasRead.test(pragma) && !pragmasSet.test(pragma);
}
