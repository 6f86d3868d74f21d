import type { WorkSteps } from "../reference/work-steps.ts";

/** How many days before a visit occupants are told, and how they are counted. */
export type NoticeRule = Pick<WorkSteps, "noticeDays" | "noticeCountsIn">;

/** `1 calendar day`, `3 working days`. */
export const describeNotice = ({ noticeDays, noticeCountsIn }: NoticeRule): string =>
  `${noticeDays} ${noticeDays === 1 ? noticeCountsIn.replace(/s$/, "") : noticeCountsIn}`;
