/** A district as people see it: of laterals that the city puts in none, that is said. */
export const districtName = (district: string): string => (district === "" ? "(no district)" : district);
