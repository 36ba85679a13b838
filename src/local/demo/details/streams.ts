/** Seeds of the streams from which each part of the demo draws by itself. */
export const streams = { patients: 20260301, examinations: 20260302, outcomes: 20260303, before: 20260304 } as const
