/** Names of what is measured, as they stand on the sheet and in the review. */
export const fluids = {
  urineCatheter: 'Urine, catheter',
  urineVoided: 'Urine, voided',
  urinePad: 'Urine, pad',
  emesis: 'Emesis',
  ostomy: 'Ostomy',
  stoolLiquid: 'Stool, liquid',
  oralFluid: 'Fluids by mouth',
} as const;
