/** The header in which an entry names the account it was made under. */
export const authorHeader = 'barmbook-author';
