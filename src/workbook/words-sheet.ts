import { amountInWords, belowHundred, groups } from "../bidding/amount-words.ts";
import type { Cents } from "../quantity/si.ts";
import { columnLetter } from "./references.ts";
import { type Formula, firstRow, formula, type Row, type SheetModel } from "./sheet-model.ts";

const NAME = "Number words";
const notes = ["The numbers below 100 in words. Formulas that write an amount in words look them up here."];
const first = firstRow(notes);
const GRID = `'${NAME}'!$B$${first}:$${columnLetter(10)}$${first + 9}`;

/** Tens down, ones across. */
export function wordsSheet(): SheetModel {
  const digits = Array.from({ length: 10 }, (_, i) => i);
  return {
    name: NAME,
    title: NAME,
    notes,
    columns: [{ heading: "Tens", width: 7 }, ...digits.map((one) => ({ heading: String(one), width: 15 }))],
    rows: digits.map((ten): Row => [ten, ...digits.map((one) => belowHundred(10 * ten + one))]),
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}

/** Lines kept free for the words of a big amount, in the column of descriptions. */
const LINES = 2;

/**
 * The amount in a cell, in words, by a live formula: each group of three digits from the sheet of number words.
 *
 * @param before text before the words; our own
 */
export function inWords(cell: string, amount: Cents, currency: string, before = ""): Formula {
  const word = (number: string) => `INDEX(${GRID},INT((${number})/10)+1,MOD(${number},10)+1)`;
  const inGroup = ({ name, is }: (typeof groups)[number]): string => {
    const group = `MOD(INT(ROUND(${cell},2)/${is}),1000)`;
    const hundreds = `IF(${group}>99,${word(`INT(${group}/100)`)}&" hundred ","")`;
    return `IF(${group}=0,"",${hundreds}&${word(`MOD(${group},100)`)}&" ${name} ")`;
  };
  const whole = `IF(ROUND(${cell},2)<1,"zero",TRIM(${groups.map(inGroup).join("&")}))`;
  const rest = `TEXT(MOD(ROUND(${cell}*100,0),100),"00")`;
  const text = `IF(ISNUMBER(${cell}),"${before}"&${whole}&" and "&${rest}&"/100 ${currency}","")`;
  return { ...formula(text, before + amountInWords(amount, currency)), isText: true, lines: LINES };
}
