import type { WorkSteps } from "../reference/work-steps.ts";

/** How many days before a visit occupants are told, and how they are counted. */
export type NoticeRule = Pick<WorkSteps, "noticeDays" | "noticeCountsIn">;

/** What a working day of notice is: people are at their doors when crews are not at work. "" of calendar days. */
export const workingDaysSaid = ({ noticeCountsIn }: Pick<NoticeRule, "noticeCountsIn">): string =>
  noticeCountsIn === "working days"
    ? "Working days of notice are those of the working week that are no holiday; days that weather takes or a blackout closes count."
    : "";

/** `1 calendar day`, `3 working days`. */
export const describeNotice = ({ noticeDays, noticeCountsIn }: NoticeRule): string =>
  `${noticeDays} ${noticeDays === 1 ? noticeCountsIn.replace(/s$/, "") : noticeCountsIn}`;
