export * from './ferments.ts';
export * from './journal.ts';
export * from './lots.ts';
export * from './people.ts';
export * from './plan.ts';
export * from './setup.ts';
