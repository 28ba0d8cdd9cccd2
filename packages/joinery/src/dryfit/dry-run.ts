/** Asked again and again; `tick` answers false when the work must stop. */
export interface DryRun {
  tick(): boolean;
}
