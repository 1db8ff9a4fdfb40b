//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use fishplate_proto::v1::{Depth, Measure, Rates};
use fishplate_report::Units;

const EXIT_CODES: &str = "\
Exit codes:
  0  everything was checked and holds
  1  something exceeds its limit
  2  the input can't be used, or what it describes can't be solved
  3  the service can't be reached, or failed
  4  provisional: what was checked holds, but something is not checked or a
     leading input is a guess";

const COMPARE_EXIT_CODES: &str = "\
Exit codes, of the design that comes first:
  0  everything was checked and holds
  1  something exceeds its limit: no design holds
  2  the input can't be used, or what it describes can't be solved
  3  the service can't be reached, or failed
  4  provisional: what was checked holds, but something is not checked or a
     leading input is a guess";

const EXAMPLES: &str = r#"
Examples:
  fishplate check van-a.toml                        the answer, worst first
  fishplate check van-a.toml --html van-a.html      the same with drawings
  fishplate check van-a.toml --depth plate          a second opinion by plates
  fishplate compare van-a.toml van-b.toml           two designs side by side
  fishplate size size-front.toml --by mass,weld     the lightest design that holds
  fishplate check van-a.toml --set cradle.mass="225 kg"
                                                    what if it were heavier
  fishplate guesses van-a.toml                      which guess to measure first
  fishplate what-if van-a.toml --add-mass "80 kg at 50, 0, 620 mm"
                                                    what fails first then
  fishplate what-if van-a.toml --weld weld.front-foot
                                                    how much weld is needed
  fishplate explain van-a.toml FL-2                 every number of one check
  fishplate explain van-a.toml bolt.front-bush --html sheet.html
                                                    a calculation sheet to print
  fishplate check van-a.toml --units us             in, lbf, ksi, lbf ft, lb
  fishplate batch vans/                             all projects of a folder
  fishplate check-part bolt.toml                    single bolts, welds, plates
  fishplate tables materials --filter S2            steels known by name
  fishplate solve frame.json                        a frame on its own"#;

/// Checks whether the mounts of an adapted subframe will hold.
///
/// A project file describes the car, the donor cradle, the rails it hangs from and the brackets
/// between them. The loads are carried from the tyres to the last weld, and every bolt, weld, plate
/// and rail on the way is checked. It is an aid for a competent person; it approves no vehicle.
#[derive(Debug, Parser)]
#[command(name = "fishplate", version, after_help = "Try: fishplate check FILE",
    after_long_help = format!("{}\n\n{EXIT_CODES}", EXAMPLES.trim_start()))]
pub(crate) struct Options {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Checks a project: what holds, what does not, by how much, and what to change.
    #[command(after_long_help = EXIT_CODES)]
    Check(CheckOptions),
    /// Puts designs side by side: weld, steel, bolts, what governs, and what would have to change for
    /// another to come first.
    #[command(after_long_help = COMPARE_EXIT_CODES)]
    Compare(CompareOptions),
    /// Shows the sums of one check, or of all checks of a part or joint, line by line.
    #[command(after_long_help = EXIT_CODES)]
    Explain(ExplainOptions),
    /// Checks many projects after a change: what newly fails, what got worse, what got better.
    ///
    /// Results are kept beside the projects, in .fishplate: only mounts that a change touches are
    /// computed again. Each is compared with the state that was accepted last.
    #[command(after_long_help = EXIT_CODES)]
    Batch(BatchOptions),
    /// Ranks the guesses of a project: which one to measure first, and how.
    ///
    /// Every input that is guessed or has a spread is moved from end to end, alone and then all
    /// together; where a guess has no spread the usual one is taken and marked. It also tells at which
    /// value of each input the verdict turns, and how likely each check is exceeded.
    #[command(after_long_help = EXIT_CODES)]
    Guesses(GuessesOptions),
    /// Sets a project beside itself changed: more mass, a mount lost, other values.
    #[command(name = "what-if", after_long_help = EXIT_CODES)]
    WhatIf(WhatIfOptions),
    /// Checks single bolts, welds, members and plates, without a project around them.
    ///
    /// The file has a section for each part, such as [bolt] or [weld.foot], and says by which rules:
    /// rules = "EN 1993". What a part takes is told by --list and --describe.
    #[command(name = "check-part", after_long_help = EXIT_CODES)]
    CheckPart(CheckPartOptions),
    /// Finds the designs that hold among all that a file leaves open, best first.
    ///
    /// A file leaves a value open by writing { any = ["U 4 mm S275", "U 5 mm S275"] } in its place;
    /// every combination is decided, and the answer proves that no better one holds.
    #[command(after_long_help = EXIT_CODES)]
    Size(SizeOptions),
    /// Solves a frame, plates, a bolt group or weld group that is given as JSON.
    ///
    /// The file is the protobuf JSON of fishplate.v1.SolveStructureRequest.
    Solve(SolveOptions),
    /// Lists what is known by name.
    Tables(TablesOptions),
    /// Serves checks to other programs of this machine over gRPC.
    #[cfg(feature = "embedded")]
    Serve(ServeOptions),
}

#[derive(Debug, Args)]
pub(crate) struct CheckOptions {
    #[command(flatten)]
    pub(crate) given: Given,
    /// Writes a page with drawings to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// How deep to look: `frame`, hand statics of every joint, or `plate`, every mount as plates as
    /// well, which takes longer.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) depth: LookDepth,
    /// Tells nothing on the way. On a terminal the plate level shows how far it is.
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Shows every row of both sides, all guesses, assumptions and notes.
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

/// A project as it is given.
#[derive(Debug, Args)]
pub(crate) struct Given {
    /// Project file (TOML); `-` reads standard input.
    pub(crate) file: String,
    /// Sets a key before the file is read: --set cradle.mass="225 kg". May be repeated; a list or a
    /// table is written as in the file.
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct CompareOptions {
    /// Project files (TOML), two to eight, one a design.
    #[arg(required = true, num_args = 2..=8)]
    pub(crate) files: Vec<String>,
    /// Sets a key of every design before it is read: --set cradle.mass="225 kg". May be repeated.
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// What designs of one verdict are ranked by; less is better.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) by: RankBy,
    /// What things cost, in any currency, for `--by cost`: `kg=3.2,weld-m=18,bolt=1.5`. Of kg, weld-m,
    /// weld-cm3, cut-m, bolt, piece.
    #[arg(long, value_name = "LIST", value_parser = rates, required_if_eq("by", "cost"))]
    pub(crate) rates: Option<Rates>,
    /// Writes a page with drawings at one scale to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// How deep to look: `frame`, hand statics of every joint, or `plate`, every mount as plates as
    /// well, which takes longer.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) depth: LookDepth,
    /// Tells nothing on the way. On a terminal it shows how far it is.
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Shows every check and every case.
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct BatchOptions {
    /// A folder, with all its files *.toml that have a section [project]; or project files.
    #[arg(required = true, value_name = "FOLDER|FILE")]
    pub(crate) paths: Vec<String>,
    /// Makes the state of today the one that later ones are compared with.
    #[arg(long)]
    pub(crate) accept: bool,
    /// Sets a key in every project before it is read: --set car.mass="2110 kg". May be repeated.
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// How deep to look.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) depth: LookDepth,
    /// Writes a report for a build server to this file, too: JUnit XML.
    #[arg(long, value_name = "FILE")]
    pub(crate) junit: Option<PathBuf>,
    /// Writes a page to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// Lists every mount, unchanged ones too.
    #[arg(long)]
    pub(crate) all: bool,
    /// Tells nothing on the way.
    #[arg(long)]
    pub(crate) quiet: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct SizeOptions {
    #[command(flatten)]
    pub(crate) given: Given,
    /// What is wanted little of, first things first: --by mass,weld.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "mass")]
    pub(crate) by: Vec<RankBy>,
    /// The two measures that the trade-off is drawn over.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "mass,use")]
    pub(crate) front: Vec<RankBy>,
    /// What things cost, in any currency, for `cost`: `kg=3.2,weld-m=18,bolt=1.5`. Of kg, weld-m,
    /// weld-cm3, cut-m, bolt, piece.
    #[arg(long, value_name = "LIST", value_parser = rates)]
    pub(crate) rates: Option<Rates>,
    /// Designs that are listed.
    #[arg(long, value_name = "N", default_value_t = 10, value_parser = clap::value_parser!(u8).range(1..=100))]
    pub(crate) top: u8,
    /// How deep the best are confirmed: by hand statics, or as plates, which takes longer.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) depth: LookDepth,
    /// Writes the best design to this file: the project file with what is open settled.
    #[arg(long, value_name = "FILE")]
    pub(crate) write: Option<PathBuf>,
    /// Writes a page with the trade-off drawn to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// Tells nothing on the way. On a terminal it shows how far it is.
    #[arg(long)]
    pub(crate) quiet: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

/// What designs are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(crate) enum RankBy {
    /// Length of weld.
    #[default]
    Weld,
    /// Volume of weld metal.
    WeldMetal,
    /// Mass of new steel.
    Mass,
    /// Length of cuts.
    Cut,
    /// Number of bolts.
    Bolts,
    /// Pieces of steel.
    Pieces,
    /// The highest utilisation.
    Use,
    /// What it costs by `--rates`.
    Cost,
}

impl RankBy {
    /// As the service has it.
    pub(crate) fn wire(self) -> Measure {
        match self {
            Self::Weld => Measure::WeldLength,
            Self::WeldMetal => Measure::WeldVolume,
            Self::Mass => Measure::Mass,
            Self::Cut => Measure::Cut,
            Self::Bolts => Measure::Bolts,
            Self::Pieces => Measure::Pieces,
            Self::Use => Measure::Utilisation,
            Self::Cost => Measure::Cost,
        }
    }
}

/// Rates as `kg=3.2,weld-m=18`.
fn rates(text: &str) -> Result<Rates, String> {
    let mut rates = Rates::default();
    for piece in text.split(',').map(str::trim).filter(|piece| !piece.is_empty()) {
        let (name, value) = piece.split_once('=').ok_or_else(|| {
            format!("\"{piece}\" is no rate; write a name, = and a number, such as kg=3.2")
        })?;
        let value: f64 = value
            .trim()
            .parse()
            .ok()
            .filter(|v: &f64| v.is_finite() && *v >= 0.0)
            .ok_or_else(|| {
                format!("\"{}\" is no price; a number of zero or more belongs here", value.trim())
            })?;
        match name.trim() {
            "kg" => rates.per_kg = value,
            "weld-m" => rates.per_weld_m = value,
            "weld-cm3" => rates.per_weld_cm3 = value,
            "cut-m" => rates.per_cut_m = value,
            "bolt" => rates.per_bolt = value,
            "piece" => rates.per_piece = value,
            other => {
                return Err(format!(
                    "nothing is sold by \"{other}\"; it may be kg, weld-m, weld-cm3, cut-m, bolt, piece"
                ));
            }
        }
    }
    Ok(rates)
}

/// How deep to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(crate) enum LookDepth {
    /// Hand statics of every joint.
    #[default]
    Frame,
    /// Every mount as plates as well: a second opinion on every joint.
    Plate,
}

impl LookDepth {
    /// As the service has it.
    pub(crate) fn wire(self) -> Depth {
        match self {
            Self::Frame => Depth::Frame,
            Self::Plate => Depth::Plate,
        }
    }
}

#[derive(Debug, Args)]
pub(crate) struct ExplainOptions {
    #[command(flatten)]
    pub(crate) given: Given,
    /// The row, as `check` numbers it: FL-2. Or a part or joint, as the file names it:
    /// bolt.front-bush, rail.frame; with ` left` or ` right` behind it that side alone.
    pub(crate) row: String,
    /// Writes a calculation sheet to this file, too: a page to print, with all sums.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// The load case; the governing one where left out.
    #[arg(long, value_name = "NAME")]
    pub(crate) case: Option<String>,
    /// How deep to look; rows of the plate level are there only with `plate`.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) depth: LookDepth,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct GuessesOptions {
    #[command(flatten)]
    pub(crate) given: Given,
    /// The row to follow, as `check` numbers it: FL-7. Whichever governs where left out.
    #[arg(long, value_name = "ROW")]
    pub(crate) row: Option<String>,
    /// The load case to follow that row in; whichever governs where left out.
    #[arg(long, value_name = "NAME", requires = "row")]
    pub(crate) case: Option<String>,
    /// Points over all spreads at once, at least; 0 leaves them out.
    #[arg(long, value_name = "N", default_value_t = 1024)]
    pub(crate) samples: u32,
    /// Takes no usual spread where the file gives none.
    #[arg(long)]
    pub(crate) given_only: bool,
    /// Writes a page to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// Tells nothing on the way.
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Shows every input and every row.
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct WhatIfOptions {
    #[command(flatten)]
    pub(crate) given: Given,
    /// Adds mass: "80 kg at 50, 0, 620 mm", or "80 kg on the rear axle".
    #[arg(long, value_name = "MASS")]
    pub(crate) add_mass: Option<String>,
    /// Tells how much of a fillet weld a force needs: weld.front-foot. Asked alone.
    #[arg(long, value_name = "WELD", conflicts_with_all = ["add_mass", "lose", "html"])]
    pub(crate) weld: Option<String>,
    /// The force for --weld, load factor included: "15 kN"; the largest that crosses it where left out.
    #[arg(long, value_name = "FORCE", requires = "weld")]
    pub(crate) force: Option<String>,
    /// Loses a mount: mount.front.left carries nothing, bush.front.left has no stiffness.
    #[arg(long, value_name = "MOUNT")]
    pub(crate) lose: Option<String>,
    /// Writes a page to this file, too.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// Tells nothing on the way.
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Shows every row and every mount.
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct CheckPartOptions {
    /// File of parts (TOML); `-` reads standard input.
    #[arg(required_unless_present_any = ["list", "describe"])]
    pub(crate) file: Option<String>,
    /// The rules to check by, in place of those of the file: "EN 1993".
    #[arg(long, value_name = "NAME")]
    pub(crate) rules: Option<String>,
    /// Shows the sums of every check, line by line.
    #[arg(long)]
    pub(crate) steps: bool,
    /// Writes a calculation sheet to this file, too: a page to print, with all sums.
    #[arg(long, value_name = "FILE")]
    pub(crate) html: Option<PathBuf>,
    /// Shows what the rules do not speak about, too.
    #[arg(long)]
    pub(crate) all: bool,
    /// Lists the parts that can be checked.
    #[arg(long, conflicts_with_all = ["file", "describe"])]
    pub(crate) list: bool,
    /// Tells what a part takes: each key with its unit and meaning.
    #[arg(long, value_name = "PART", conflicts_with = "file")]
    pub(crate) describe: Option<String>,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct SolveOptions {
    /// Structure (JSON); `-` reads standard input.
    pub(crate) file: String,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct TablesOptions {
    /// Which table.
    pub(crate) table: Table,
    /// Only entries whose name or family contains this text.
    #[arg(long, value_name = "TEXT", default_value = "")]
    pub(crate) filter: String,
    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum Table {
    /// Angles, channels, tubes.
    Sections,
    /// Steels.
    Materials,
    /// Threads, property classes, washers, ways of tightening.
    Fasteners,
    /// Details under repeated stress with their classes, assumed duties.
    FatigueDetails,
}

#[cfg(feature = "embedded")]
#[derive(Debug, Args)]
pub(crate) struct ServeOptions {
    /// Address to listen on; port 0 takes a free one, and the address is printed.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:50061")]
    pub(crate) listen: std::net::SocketAddr,
}

#[derive(Debug, Args)]
pub(crate) struct Common {
    /// Asks the service at this address instead of the one inside this program.
    #[arg(long, value_name = "URL", env = "FISHPLATE_SERVER")]
    pub(crate) server: Option<String>,
    /// Longest wait for an answer, seconds.
    #[arg(long, value_name = "S", default_value_t = 60, value_parser = whole_seconds)]
    pub(crate) timeout: u64,
    /// Prints the protobuf JSON of the answer and nothing else; errors as JSON on standard error.
    #[arg(long)]
    pub(crate) json: bool,
    /// Units to print in. A file may mix both; JSON always has those that its fields name.
    #[arg(long, value_enum, default_value_t = UnitSystem::Si)]
    pub(crate) units: UnitSystem,
    /// Draws with ASCII alone. Taken by itself where the locale is not UTF-8.
    #[arg(long)]
    pub(crate) ascii: bool,
    /// Colours: on a terminal, always, or never. NO_COLOR is honoured.
    #[arg(long, value_enum, default_value_t = Colour::Auto)]
    pub(crate) color: Colour,
    /// Width to lay out for; that of the terminal where left out.
    #[arg(long, value_name = "N")]
    pub(crate) width: Option<usize>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitSystem {
    /// mm, N and kN, MPa, N m, kg.
    Si,
    /// in, lbf, ksi, lbf ft, lb.
    Us,
}

impl UnitSystem {
    pub(crate) fn units(self) -> Units {
        match self {
            Self::Si => Units::Si,
            Self::Us => Units::Us,
        }
    }
}

/// A time to wait.
fn whole_seconds(text: &str) -> Result<u64, &'static str> {
    text.parse()
        .ok()
        .filter(|seconds| (1..=3600).contains(seconds))
        .ok_or("whole seconds from 1 to 3600 belong here")
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colour {
    /// Only on a terminal.
    Auto,
    /// Into files and pipes too.
    Always,
    /// Nowhere.
    Never,
}
