import type { Column } from "../columns/column.ts";
import { columnOf, headingWithUnit } from "../columns/dictionary.ts";
import type { LateralKey } from "../columns/lateral-columns.ts";
import type { PlanKey } from "../columns/plan-columns.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import type { BasisRow } from "./basis-rows.ts";
import { basisSheet } from "./basis-sheet.ts";
import { itemNumber } from "./bid-schedule.ts";
import type { BidLateral, BidView } from "./bid-view.ts";
import { cautionsSheet } from "./cautions-sheet.ts";
import { districtQuantitiesSheet } from "./district-quantities.ts";
import { lateralQuantitiesSheet, sumOfLine } from "./lateral-quantities.ts";
import { formatOf, HUNDREDTHS, numberCell, WHOLE } from "./number-format.ts";
import { lettersOf, rangeIn, sumBelow } from "./references.ts";
import {
  type Book,
  type Cell,
  firstRow,
  formula,
  type Row,
  type SheetColumn,
  type SheetModel,
  UNIT_PRICE,
} from "./sheet-model.ts";
