import type { SeasonReason } from "../columns/plan-columns.ts";

/** Why a lateral is in a season or out of it, in a sentence. */
export const reasonSentences: Readonly<Record<SeasonReason, string>> = {
  "must be done": "The season's rules say that it must be done (season.must_do).",
  "worth what it takes":
    "It gains more than the money and crew-days it takes would gain elsewhere in the season.",
  "district's least":
    "It is in because its district must get a least of laterals or money; for its own gain it would not be.",
  "another waits for it": "It is in because a lateral that is worth more waits for it (season.only_after).",
  "fills what was left":
    "It gains less than what it takes is worth at the season's prices, and fills money and crew-days that nothing better had room in.",
  "not worth its cost at this budget":
    "At what a further unit of money is worth to this season, its cost would gain more elsewhere.",
  "not worth its crew-days": "Its crew-days gain more on other laterals.",
  "money is gone": "It is worth what it takes, and the money that is left is not enough for it.",
  "crew-days are gone":
    "It is worth what it takes, and packed into days with the others it needs more crew-days, or later dates, than there are.",
  "district not opened":
    "For itself it is worth what it takes, but no work is done in its district: mobilizing there is not worth what it costs.",
  "district has its most":
    "Its district has the most laterals or money that the season's rules give it (season.districts).",
  "waits for another lateral": "The lateral that it is to follow is not in the season (season.only_after).",
  "must not be done": "The season's rules say that it must not be done (season.must_not).",
  "cross-bore not made safe":
    "A cross-bore was found in it and is not recorded as made safe (cross_bore): nobody is sent there, not with a camera either.",
  "no treatment allowed": "The rules of treatment allow no work on it: it is left and looked at again.",
  "no permission that holds":
    "Work on its private part needs a signed permission that holds when the season begins.",
  "waits for its main":
    "Its main is to be lined first, and is not lined in this season by what season.mains_lined says.",
  "no price": "An item of its work has no unit price.",
  "gain not known": "What its work would gain is not known.",
  "gains nothing": "None of its offers gains anything by what the season is selected for.",
  "alone over money or crew-days":
    "Each of its offers alone takes more money or crew-days than the whole season has.",
  "would still fit":
    "It is worth what it takes and would still fit: the search did not find it, within the gap that is stated. Select the season again with a smaller --gap, or put it into season.must_do.",
  "done already": "It is done already, and was not one of the season's laterals to choose.",
  refused: "It is not to be done: its status is refused.",
};
