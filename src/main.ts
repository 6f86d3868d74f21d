#!/usr/bin/env node
import { userInfo } from "node:os";
import { Command, Option } from "commander";
import { type CommandIo, EXIT } from "./commands/command-io.ts";
import { describeDiskError } from "./commands/disk-error.ts";
import { shownText } from "./commands/shown-text.ts";
import { flagOf, sizeOptions } from "./commands/size-options.ts";

/** Jobs and containers often have no USER; who decided is asked for all the same. */
function userOfMachine(): string {
  try {
    return userInfo().username;
  } catch {
    return "unknown";
  }
}

/** What each run of the program may do to the outside world. */
const io: CommandIo = {
  // The carriage returns of CSV would be shown as escapes: here lines end as the terminal's do.
  out: (text) => void process.stdout.write(shownText(text.replaceAll("\r\n", "\n"))),
  err: (text) => void process.stderr.write(shownText(text)),
  now: () => new Date().toISOString(),
  // In an American evening UTC has tomorrow already.
  today: () => {
    const at = new Date();
    const two = (part: number) => String(part).padStart(2, "0");
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  },
  who: process.env["WYEPLAN_WHO"] ?? process.env["USER"] ?? process.env["USERNAME"] ?? userOfMachine(),
  ...(process.stdout.columns === undefined ? {} : { columns: process.stdout.columns }),
};

// A reader that has seen enough (`| head`) closes the pipe: the rest goes nowhere and the command ends as it would.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") return;
  io.err(`The output is cut short: ${describeDiskError(error) ?? error.message}\n`);
  process.once("exit", () => {
    process.exitCode = EXIT.notDone;
  });
});

// Words beside the result that nobody can read any more (`2>&1 | head`, a full disk) never end a command half way.
process.stderr.on("error", () => undefined);

/** Whether a person sits at a terminal. */
const atTerminal = process.stdin.isTTY === true && process.stdout.isTTY === true;

/** Runs one command; its code is loaded only now, so that `--help` loads nothing. */
async function run(command: () => Promise<number>): Promise<void> {
  process.exitCode = await command();
}

const program = new Command("wyeplan")
  .description(
    "Plans municipal sewer-lateral rehabilitation: ranks laterals by risk, chooses a treatment, sizes liners and resin, " +
      "totals materials and crew-days per district, and writes workbooks that contractors can price.",
  )
  .argument("[folder]", "program folder to open in the sheet")
  .option(
    "--files-from <folder>",
    "another folder in which the city's files may lie, beside the program's own",
  )
  .hook("preAction", async () => {
    const { filesFrom } = program.opts<{ filesFrom?: string }>();
    if (filesFrom === undefined) return;
    const { letCityFilesLieIn } = await import("./program/program-files.ts");
    const refused = await letCityFilesLieIn(filesFrom);
    if (refused === null) return;
    const { describeProblem } = await import("./quantity/problem.ts");
    program.error(describeProblem(refused), { exitCode: EXIT.notDone });
  })
  .allowExcessArguments()
  .helpCommand("help [command]", "say more about a command")
  .addHelpText(
    "after",
    `
To begin:
  wyeplan try                                    the sample program, in a copy
  wyeplan new my-program --laterals FILE.csv     a program of a city's files
  wyeplan my-program                             opens it in the sheet
`,
  )
  // Each command's own help has its arguments; beside them here the descriptions would not fit a window of 80.
  .configureHelp({ subcommandTerm: (command) => command.name() })
  .showHelpAfterError("(wyeplan --help lists the commands)")
  .exitOverride()
  .configureOutput({ writeOut: io.out, writeErr: io.err })
  .action((folder: string | undefined) => {
    if (folder === undefined) return program.help();
    const commands = program.commands.map((command) => command.name());
    return run(async () => {
      const { openProgram, sayUnknown } = await import("./commands/open.ts");
      return program.args.length > 1
        ? sayUnknown("command", folder, io, commands)
        : openProgram(folder, io, commands);
    });
  });

program
  .command("new <folder>")
  .description("make a program's folder from a city's CSV files")
  .requiredOption("--laterals <file>", "the city's list of laterals, CSV (needed)")
  .option("--inspections <file>", "the city's list of camera inspections, CSV")
  .option("--observations <file>", "what the inspections saw, a row for each thing seen, CSV")
  .option("--name <name>", "what the program is called (default: the folder's name)")
  .option("--as-of <date>", "the day the plan is made for, YYYY-MM-DD (default: today)")
  .option("--units <us|si>", "units people see and type (default: found in the file)")
  .option("--currency <code>", "ISO 4217 code (default: USD for us, EUR for si)")
  .option(
    "--worst-grade <5|1|0>",
    "which grade is the city's worst: 5; 1 (1 to 5 are taken as 5 to 1); 0 (0 to 4 as 5 to 1, 5 as no defect) (default: 5)",
  )
  .option(
    "--settings <file>",
    "which heading is which column, as JSON, where the headings alone do not settle it",
  )
  .action((folder, options) =>
    run(async () =>
      (await import("./commands/new.ts")).newProgram(
        folder,
        options,
        io,
        (await import("./commands/ask.ts")).askAtTerminal(),
      ),
    ),
  );

program
  .command("plan <folder>")
  .description("plan the program and print the district table, materials, problems and cautions")
  .option("--json", "everything as JSON")
  .option(
    "--with-addresses",
    "in the JSON, with addresses, permissions, the city's own columns and what its files say, which are left out otherwise",
  )
  .option("--filter <name>", "only the laterals that meet this filter of program.json")
  .option("--save <name>", "save the run as a snapshot, to compare a later one with")
  .option("--season <name>", "only a saved season")
  .action((folder, options) =>
    run(async () => {
      const second = await (await import("./commands/plan-thread.ts")).threadAhead(folder);
      try {
        return await (await import("./commands/plan.ts")).planFolder(folder, options, io, second);
      } finally {
        await second.end();
      }
    }),
  );

program
  .command("workbook <folder>")
  .description("write the bid book and the planning book")
  .option("--out <folder>", "where to write them (default: outputs/ in the program)")
  .option("--season <name>", "only the laterals of a saved season")
  .action((folder, options) =>
    run(async () => (await import("./commands/workbook.ts")).workbookOf(folder, options, io)),
  );

program
  .command("issue <folder>")
  .description("issue the bid documents: a numbered bid book, its record, and what changed since the last")
  .option("--addendum <text>", "what a re-issue changes, in words that bidders read")
  .option("--season <name>", "only the laterals of a saved season")
  .action((folder, options) =>
    run(async () => (await import("./commands/issue.ts")).issueBid(folder, options, io)),
  );

program
  .command("price <folder-or-bid>")
  .description(
    "fill a bid book with unit prices made from a cost book, and write what is in each into a private file",
  )
  .requiredOption("--book <file>", "the cost book, JSON (needed)")
  .option(
    "--out <file>",
    "the priced workbook (default: beside the bid book, -priced; what stands there is never written over)",
  )
  .action((target, options) =>
    run(async () => (await import("./commands/price.ts")).priceBid(target, options, io)),
  );

program
  .command("bids <folder> <bids...>")
  .description("read priced bid books, correct and compare them, and write the tabulation")
  .option("--issued <file>", "the bid book as issued (default: the latest issue of the program)")
  .option("--book <file>", "cost book of the estimate (default: the unit prices of program.json)")
  .option("--out <file>", "the tabulation (default: outputs/bid-tabulation.xlsx of the program)")
  .action((folder, bids, options) =>
    run(async () => (await import("./commands/bids.ts")).tabulateBids(folder, bids, options, io)),
  );

program
  .command("table <folder> [sheet]")
  .description(
    "write a sheet of the workbooks, or every column of the laterals, as CSV; without a name the sheets are listed",
  )
  .option("--filter <name>", "of the laterals, only those that meet this filter of program.json")
  .option(
    "--season <name>",
    "a saved season: of the laterals, the one that the season's columns are of (default: the one saved last); of a sheet of the workbooks, the season's own plan (default: the whole plan)",
  )
  .option(
    "--with-addresses",
    "with addresses, permissions and the city's own columns, which are left out otherwise; coordinates are always in",
  )
  .option("--out <file>", "where to write it (default: the terminal)")
  .action((folder, sheet, options) =>
    run(async () => (await import("./commands/table.ts")).tableOf(folder, sheet, options, io)),
  );

program
  .command("geojson <folder>")
  .description("write the laterals as points with what the plan says of each (GeoJSON)")
  .option(
    "--season <name>",
    "the saved season that the season's columns are of (default: the one saved last)",
  )
  .option(
    "--with-addresses",
    "with addresses, permissions and the city's own columns, which are left out otherwise; coordinates are always in",
  )
  .option("--out <file>", "where to write it (default: the terminal)")
  .action((folder, options) =>
    run(async () => (await import("./commands/geojson.ts")).geojsonOf(folder, options, io)),
  );

program
  .command("report <folder>")
  .description("write a report for a council: one HTML file with pictures and a map")
  .option(
    "--out <file>",
    "where to write it (default: outputs/report.html in the program; of a season outputs/season-NAME/report.html)",
  )
  .option("--season <name>", "on this saved season (default: on the whole plan)")
  .action((folder, options) =>
    run(async () => (await import("./commands/report.ts")).reportOf(folder, options, io)),
  );

program
  .command("why <folder> <lateral>")
  .description("say why the plan treats one lateral as it does, with equations and sources")
  .option("--json", "as JSON")
  .option(
    "--with-addresses",
    "in the JSON, with the address, the days of a permission and what people wrote, which are left out otherwise",
  )
  .action((folder, lateral, options) =>
    run(async () => (await import("./commands/why.ts")).whyLateral(folder, lateral, options, io)),
  );

program
  .command("formulas <folder> [formula]")
  .description("list what formulas may name, or check one and show its values")
  .action((folder, formula) =>
    run(async () => (await import("./commands/formulas.ts")).formulasOf(folder, formula, io)),
  );

program
  .command("risk <folder>")
  .description("show where the risk is, what it costs, how it grows and how sure the order is")
  .option("--json", "as JSON")
  .action((folder, options) =>
    run(async () => (await import("./commands/risk.ts")).riskOf(folder, options, io)),
  );

program
  .command("calendar <folder>")
  .description(
    "pack the crews' visits into days, and show the season's calendar and what slips if it rains more",
  )
  .option("--json", "as JSON")
  .option("--season <name>", "only a saved season")
  .action((folder, options) =>
    run(async () => (await import("./commands/calendar.ts")).calendarOf(folder, options, io)),
  );

program
  .command("notices <folder>")
  .description("list by district and day when occupants have to be told that a crew comes")
  .option("--season <name>", "of a saved season (default: the one saved last)")
  .option("--with-addresses", "with the address of each lateral, which is left out otherwise")
  .option("--out <file>", "where to write it, as CSV (default: the terminal, as tables)")
  .action((folder, options) =>
    run(async () => (await import("./commands/notices.ts")).noticesIn(folder, options, io)),
  );

program
  .command("takeoff <folder>")
  .description("list what must be bought by district and for the program: rolls, kits, seals, rests")
  .option("--json", "as JSON")
  .option("--season <name>", "only a saved season")
  .action((folder, options) =>
    run(async () => (await import("./commands/takeoff.ts")).takeoffOf(folder, options, io)),
  );

program
  .command("season <folder>")
  .description("select what fits the season's budget, crews and rules best, beside the ranked cut")
  .option("--why <lateral>", "why one lateral is in or out, and what the other way round would cost; as text")
  .option(
    "--vary <words...>",
    "budget 500000..3000000 by 250000, crews lining 20..80 by 10, or season 2026-08-31..2026-11-30 by 2 weeks",
  )
  .option("--save <name>", "save the season, or the curve that --vary finds, to compare a later one with")
  .option("--list", "list the seasons and curves that are saved")
  .option("--curve <name>", "show a saved curve again")
  .option("--picture <file>", "a picture of the curve, .svg or .png")
  .option("--against <name>", "say what moved against a saved season; of a curve, against a saved curve")
  .option(
    "--gap <part>",
    "how much better another season may still be, as a part of the worth (default: 0.001)",
  )
  .option("--json", "as JSON")
  .action((folder, options) =>
    run(async () => (await import("./commands/season.ts")).seasonOfFolder(folder, options, io)),
  );

program
  .command("check <folder>")
  .description("list the problems in the program's files")
  .action((folder) => run(async () => (await import("./commands/check.ts")).checkFolder(folder, io)));

program
  .command("add <folder>")
  .description("take new inspections into the program, replan, and say what moved and why")
  .requiredOption("--inspections <file>", "the city's list of new inspections, CSV (needed)")
  .option("--worst-grade <5|1|0>", "which grade is the file's worst, as in new (default: as the first file)")
  .option(
    "--settings <file>",
    "which heading is which column, as JSON, where the headings alone do not settle it",
  )
  .action((folder, options) =>
    run(async () =>
      (await import("./commands/add.ts")).addInspections(
        folder,
        options,
        io,
        (await import("./commands/ask.ts")).askAtTerminal(),
      ),
    ),
  );

program
  .command("remove <folder>")
  .description("take inspections that were added out again; the file is kept")
  .requiredOption("--inspections <name>", "name of the added file (needed)")
  .action((folder, options) =>
    run(async () => (await import("./commands/remove.ts")).removeInspections(folder, options, io)),
  );

program
  .command("compare <folder> [from] [to]")
  .description("say what moved between two saved runs, and why; without names the runs are listed")
  .option("--top <number>", "how many laterals count as selected (default: one in ten)")
  .option("--all", "every lateral that moved")
  .option("--json", "as JSON")
  .action((folder, from, to, options) =>
    run(async () => (await import("./commands/compare.ts")).compareSnapshots(folder, from, to, options, io)),
  );

program
  .command("decide <folder> <lateral> <column> <value>")
  .description(
    'decide a value of one lateral, with the reason: decide my-program 00417 host_diameter "4 in" --reason "measured"',
  )
  .requiredOption("--reason <text>", "why (needed)")
  .option("--who <name>", "who decides (default: the user of this machine)")
  .action((folder, lateral, column, value, options) =>
    run(async () =>
      (await import("./commands/decide.ts")).decideValue(
        { folder, lateral, column, value, ...options },
        io,
        (await import("./commands/objections.ts")).decidedProgram(folder),
      ),
    ),
  );

program
  .command("progress <folder>")
  .description("show what is done and what is left by district: laterals, money, crew-days")
  .option("--budget <amount>", "the money there is (default: the season's budget in program.json)")
  .option("--json", "as JSON")
  .action((folder, options) =>
    run(async () => (await import("./commands/progress.ts")).progressOf(folder, options, io)),
  );

program
  .command("uncertainty <folder>")
  .description("show how sure cost and finish are, what drives them, and the contingency that asks for")
  .option("--draws <number>", "possible seasons to draw (default: as criteria.uncertainty says)")
  .option("--season <name>", "only the laterals of this saved season (default: the whole plan)")
  .option("--json", "as JSON")
  .action((folder, options) =>
    run(async () => (await import("./commands/uncertainty.ts")).uncertaintyOf(folder, options, io)),
  );

program
  .command("undo <folder>")
  .description("take the latest decision back")
  .action((folder) => run(async () => (await import("./commands/undo.ts")).undoLatest({ folder }, io)));

program
  .command("redo <folder>")
  .description("put the latest decision taken back in place again")
  .action((folder) => run(async () => (await import("./commands/redo.ts")).redoLatest({ folder }, io)));

const size = program
  .command("size")
  .description(
    "one liner on one calculation sheet: inputs, equations with their numbers, results, the check that governs, sources",
  );
for (const { key, value, group, help } of sizeOptions)
  size.addOption(
    new Option(`${flagOf(key)} <${value}>`, help).helpGroup(`${group}:`).makeOptionMandatory(key === "host"),
  );
size
  .addOption(new Option("--json", "as JSON, in SI").helpGroup("Output:"))
  .action((options) => run(async () => (await import("./commands/size.ts")).sizeOne(options, io)));

program
  .command("try [folder]")
  .description("copy the sample program and open it; without a terminal plan it and write its workbooks")
  .action((folder) =>
    run(async () => (await import("./commands/try-sample.ts")).trySample(folder, io, atTerminal)),
  );

/** What each argument is, for the help of the commands that take it. */
const argumentHelp: Readonly<Record<string, string>> = {
  folder: "the program's folder",
  "folder-or-bid": "the program's folder, whose bid book is filled, or the bid book itself",
  bids: "the priced workbooks that came back",
  sheet: "name of the sheet, as the list has it",
  lateral: "the city's id of the lateral, such as 00417",
  column: "what is decided, such as host_diameter; an unknown name lists them all",
  value: 'with its unit, such as "4 in"; "as given" takes a decision back',
  formula: 'such as "host_length > 40 ft"',
  from: "name of a saved run",
  to: "name of another (default: the program as it is)",
};
const folderOf: Readonly<Record<string, string>> = {
  new: "the folder to make",
  try: "where the copy goes (default: working-copy)",
};

for (const command of program.commands) {
  const name = command.name();
  command.showHelpAfterError(`Usage: wyeplan ${name} ${command.usage()}\n(wyeplan ${name} --help says more)`);
  for (const argument of command.registeredArguments)
    argument.description =
      (argument.name() === "folder" ? folderOf[name] : undefined) ?? argumentHelp[argument.name()] ?? "";
}

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = await report(error);
}

/** Commander throws to end a run (help, a wrong option) with its own code; anything else is a mistake of ours. */
async function report(error: unknown): Promise<number> {
  if (
    error instanceof Error &&
    "exitCode" in error &&
    "code" in error &&
    String(error.code).startsWith("commander.")
  ) {
    return error.exitCode === 0 ? EXIT.done : EXIT.notDone;
  }
  const disk = describeDiskError(error);
  if (disk !== null) {
    io.err(`${disk}\n`);
    return EXIT.notDone;
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  io.err(`wyeplan: a mistake in the program. Please report these lines.\n${text}\n`);
  return EXIT.broken;
}
