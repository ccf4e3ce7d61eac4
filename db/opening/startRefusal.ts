/** How the process ends when it must not start, for whoever watches over it. */
export const exitCodes = {
  missing: 3,
  newer: 4,
  edited: 5,
  upgradeFailed: 6,
  unusable: 7,
  running: 8,
} as const;

/** Why the log is not opened; its file is left as it was found. */
export class StartRefusal extends Error {
  readonly exitCode: number;

  constructor(why: keyof typeof exitCodes, message: string) {
    super(message);
    this.name = 'StartRefusal';
    this.exitCode = exitCodes[why];
  }
}
