//! The shape of a rule pack.

use fishplate_quantity::{Fault, Provenance, Source};

use crate::catalog::FuEdition;
use crate::clause::input::*;
use crate::clause::{Clause, Edition, FactorSpec, Factors, Format, National};

/// A list of clauses about one kind of input. An empty one means the standard is silent: the
/// subject is then not checked.
pub type Clauses<I> = &'static [&'static dyn Clause<I>];

/// The lists of a pack, each about one input. The names are those of the fields of [`Pack`].
macro_rules! lists {
    ($($(#[doc = $doc:literal])* $list:ident: $input:ident;)*) => {
        /// The rules of one standard, by subject.
        pub struct Pack {
            /// The name a project calls it by.
            pub id: &'static str,
            /// What it is.
            pub title: &'static str,
            /// What it covers and what not, in own words.
            pub scope: &'static str,
            /// Its editions; the first is taken where a project names none.
            pub editions: &'static [Edition],
            /// How safety may enter; the first is taken where a project names none.
            pub formats: &'static [Format],
            /// What nations and assessments change.
            pub nationals: &'static [National],
            /// Its factors with the values it recommends.
            pub factors: &'static [FactorSpec],
            $($(#[doc = $doc])* pub $list: Clauses<$input>,)*
            /// Worked examples of its clauses.
            #[cfg(test)]
            pub(crate) examples: super::contract::Examples,
        }

        impl Pack {
            /// A pack that is silent about everything.
            pub const SILENT: Self = Self {
                id: "",
                title: "",
                scope: "",
                editions: &[],
                formats: &[],
                nationals: &[],
                factors: &[],
                $($list: &[],)*
                #[cfg(test)]
                examples: super::contract::Examples::NONE,
            };

            /// Shows every list to `visitor`, in the order in which they stand here.
            pub fn visit(&self, visitor: &mut impl Visitor) {
                $(visitor.list::<$input>(stringify!($list), self.$list);)*
            }
        }

        #[cfg(test)]
        impl super::contract::Examples {
            pub(crate) const NONE: Self = Self { $($list: Vec::new,)* };
        }

        #[cfg(test)]
        impl Pack {
            /// Shows every list with its examples to `visitor`.
            pub(crate) fn try_out(&self, visitor: &mut impl super::contract::TryOut) {
                $(visitor.list::<$input>(self, self.$list, (self.examples.$list)());)*
            }
        }

        #[cfg(test)]
        pub(crate) mod examples {
            use super::*;
            use crate::packs::contract::Example;

            /// The worked examples of a pack, by list.
            #[allow(missing_debug_implementations)] // functions have nothing to print
            pub(crate) struct Examples {
                $(pub(crate) $list: fn() -> Vec<Example<$input>>,)*
            }
        }
    };
}

/// Packs are told apart by their names.
impl PartialEq for Pack {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl std::fmt::Debug for Pack {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Pack").field("id", &self.id).finish_non_exhaustive()
    }
}

/// Looks at the lists of a pack, whatever they are about.
pub trait Visitor {
    /// Is shown one list.
    fn list<I: Input>(&mut self, name: &'static str, clauses: Clauses<I>);
}

lists! {
    /// Strength and slip of one bolt in one ply.
    bolts: BoltInput;
    /// Edge distances and spacings of one bolt.
    bolt_detailing: BoltInput;
    /// The bolts of a joint together.
    bolt_groups: BoltGroupInput;
    /// Plies weakened by holes.
    bolted_plies: BoltedPlyInput;
    /// Angles bolted by one leg.
    angle_legs: AngleLegInput;
    /// Plates pulled by bolts beside a web.
    t_stubs: TStubInput;
    /// Several bolt rows that bend a plate together.
    t_stub_groups: TStubGroupInput;
    /// Blind rivets and self-tapping screws in sheet.
    sheet_fasteners: SheetFastenerInput;
    /// Threads in nuts and plates.
    threads: ThreadInput;
    /// Screws in blind holes.
    blind_holes: BlindHoleInput;
    /// Preloaded bolts under a load that opens their joint.
    preloaded_joints: PreloadedJointInput;
    /// Bolts while tightened.
    assembly: AssemblyInput;
    /// Points of fillet welds.
    welds: WeldInput;
    /// Points of fillet welds of any angle, with their quality.
    fillets: FilletInput;
    /// Strength of whole runs of fillet weld.
    weld_runs: WeldRunInput;
    /// Size, length and pattern of weld runs.
    weld_detailing: WeldRunInput;
    /// How welds are made: fit-up, surface, room, place.
    weld_making: WeldMakingInput;
    /// Plug welds.
    plugs: PlugInput;
    /// Size of plug welds.
    plug_detailing: PlugInput;
    /// Spot welds.
    spot_welds: SpotWeldInput;
    /// Welds in laps of thin sheet.
    sheet_laps: SheetLapInput;
    /// Fillet runs along and across the force together.
    weld_lines: WeldLinesInput;
    /// Groove welds.
    groove_welds: GrooveWeldInput;
    /// Arc spot welds through sheet.
    arc_spots: ArcSpotInput;
    /// Straight members.
    members: MemberInput;
    /// Angles as struts.
    angle_struts: AngleStrutInput;
    /// Points of sections of any shape.
    stress_points: StressPointInput;
    /// Boxes whose walls buckle before they yield.
    thin_boxes: ThinBoxInput;
    /// Thin sections of flat walls, by shape.
    thin_sections: ThinSectionInput;
    /// Thin sections of flat walls, by a list of them.
    flat_walls: FlatWallsInput;
    /// Channels with lips.
    lipped_channels: LippedChannelInput;
    /// Flat elements in compression.
    elements: ElementInput;
    /// Tabs bent about their thickness.
    tabs: TabInput;
    /// Plates between walls, at a bolt.
    floors: FloorInput;
    /// Triangular gussets.
    gussets: GussetInput;
    /// Flats on edge as cantilevers.
    flat_cantilevers: FlatCantileverInput;
    /// Free edges of triangular gussets.
    gusset_edges: GussetInput;
    /// Gusset plates under the force of a member.
    gusset_plates: GussetPlateInput;
    /// Plates held at all edges, loaded in the middle.
    panels: PanelInput;
    /// Flat plates in shear.
    shear_panels: ShearPanelInput;
    /// Points of plates under forces and moments per length.
    plate_points: PlatePointInput;
    /// Plates that buckle under all their stresses together.
    plate_buckling: PlateBucklingInput;
    /// Webs pressed locally.
    webs: WebInput;
    /// Faces under heads, washers and end plates.
    seats: SeatInput;
    /// Walls under a welded foot.
    walls: WallInput;
    /// Walls pulled by bolts.
    wall_pulls: WallInput;
    /// Hollow rails clamped without a sleeve.
    clamped_rails: ClampedRailInput;
    /// Sleeves.
    sleeves: SleeveInput;
    /// Plates and blocks of aluminium.
    aluminium_plates: AluminiumPlateInput;
    /// Bolts in aluminium.
    aluminium_plies: AluminiumPlyInput;
    /// Points of fillet welds of aluminium.
    aluminium_welds: AluminiumWeldInput;
    /// Flat elements of aluminium in compression.
    aluminium_elements: AluminiumElementInput;
    /// Details of parts under repeated stress.
    fatigue_details: FatigueDetailInput;
    /// Roots of fillet welds under repeated force.
    fatigue_roots: FatigueRootInput;
    /// Bolts under repeated force.
    fatigue_bolts: FatigueBoltInput;
    /// Weld toes by their structural stress.
    hot_spots: HotSpotInput;
    /// Plates welded from both sides in a T.
    t_butts: TButtInput;
    /// Sleeves that are too long or too short.
    sleeve_fits: SleeveFitInput;
    /// Weld nuts and welded bosses.
    weld_nuts: WeldNutInput;
    /// Fishplates on rails.
    fishplates: FishplateInput;
    /// Old walls by single readings of their thickness.
    old_walls: OldWallInput;
    /// Old walls by mean and deviation of their thickness.
    old_wall_means: OldWallMeanInput;
    /// Strengths assumed for a steel.
    steel_grades: SteelGradeInput;
    /// Details of steel parts by stress category.
    stress_categories: StressCategoryInput;
}

/// What a project chooses of what a pack offers. What it leaves open is as the pack recommends.
#[derive(Debug, Clone, PartialEq)]
pub struct Rules {
    /// The edition.
    pub edition: Option<String>,
    /// How safety enters.
    pub format: Option<String>,
    /// The nation or assessment.
    pub national: Option<String>,
    /// The tensile strengths of structural steel, where not those of the edition.
    pub strengths: Option<String>,
    /// Factors of its own.
    pub own: Vec<OwnFactor>,
}

/// A factor that a project states itself.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnFactor {
    /// Its symbol.
    pub symbol: String,
    /// Its value.
    pub value: f64,
    /// Where it stands.
    pub provenance: Provenance,
}

impl Rules {
    /// All as the pack recommends.
    pub const RECOMMENDED: Self =
        Self { edition: None, format: None, national: None, strengths: None, own: Vec::new() };
}

/// Factors outside these bounds are slips of the pen: common practice, no source.
const FACTOR: std::ops::RangeInclusive<f64> = 0.1..=10.0;

impl Pack {
    /// The factors of this pack under the choices of a project.
    ///
    /// # Errors
    /// Every choice that this pack does not offer, under `edition`, `format`, `national`,
    /// `strengths` or `factors[0].symbol`.
    pub fn factors(&self, rules: &Rules) -> Result<Factors, Vec<Fault>> {
        let mut faults = Vec::new();
        let edition =
            pick("edition", &rules.edition, self.editions.iter().map(|e| (e.id, e)), &mut faults);
        let format = self.formats.iter().map(|f| (f.word(), f));
        let format = pick("format", &rules.format, format, &mut faults);
        let national = rules.national.as_ref().and_then(|_| {
            let known = self.nationals.iter().map(|n| (n.id, n));
            pick("national", &rules.national, known, &mut faults)
        });
        let strengths = rules.strengths.as_ref().and_then(|_| {
            let known = FuEdition::ALL.iter().map(|s| (s.word(), s));
            pick("strengths", &rules.strengths, known, &mut faults)
        });
        for (place, own) in rules.own.iter().enumerate() {
            let path = |field: &str| format!("factors[{place}].{field}");
            if !self.factors.iter().any(|spec| spec.symbol == own.symbol) {
                let known: Vec<_> = self.factors.iter().map(|spec| spec.symbol).collect();
                let allowed = format!("a factor of {}: {}", self.id, known.join(", "));
                faults.push(Fault::new(path("symbol"), own.symbol.clone(), allowed, ""));
            } else if !FACTOR.contains(&own.value) {
                let allowed = format!("{} to {}", FACTOR.start(), FACTOR.end());
                faults.push(Fault::new(path("value"), own.value.to_string(), allowed, ""));
            }
        }
        let (Some(edition), Some(format), true) = (edition, format, faults.is_empty()) else {
            return Err(faults);
        };
        let settle = |spec: &FactorSpec| {
            if let Some(own) = rules.own.iter().rev().find(|own| own.symbol == spec.symbol) {
                return (own.value, own.provenance.clone());
            }
            let changed = national.and_then(|national| {
                let (_, value) = national.changes.iter().find(|(s, _)| *s == spec.symbol)?;
                Some((*value, Provenance::Factor(format!("national choice {}", national.title))))
            });
            changed.unwrap_or_else(|| {
                let Source { document, place } = spec.source;
                (spec.value, Provenance::Factor(format!("recommended, {document}, {place}")))
            })
        };
        let settled = self.factors.iter().map(settle).collect();
        let strengths = strengths.copied().unwrap_or(edition.strengths);
        Ok(Factors::settled(self.factors, settled, edition, *format, strengths))
    }
}

/// What `wanted` names among `known`, the first where nothing is named; else a fault at `path`.
fn pick<T>(
    path: &str,
    wanted: &Option<String>,
    known: impl Iterator<Item = (&'static str, T)> + Clone,
    faults: &mut Vec<Fault>,
) -> Option<T> {
    let found = match wanted {
        None => known.clone().next(),
        Some(word) => known.clone().find(|(id, _)| id == word),
    };
    if found.is_none() {
        let given = wanted.clone().unwrap_or_default();
        let words: Vec<_> = known.map(|(id, _)| id).collect();
        let allowed = if words.is_empty() {
            "nothing: the rules offer no such choice".to_owned()
        } else {
            words.join(", ")
        };
        faults.push(Fault::new(path, given, allowed, ""));
    }
    found.map(|(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::en_1993;

    fn gamma_m1(rules: &Rules) -> (String, Provenance) {
        let factors = en_1993::PACK.factors(rules).unwrap();
        let found = factors.all().find(|(spec, ..)| spec.symbol == "gamma_m1").unwrap();
        (found.1.to_string(), found.2.clone())
    }

    #[test]
    fn the_project_goes_before_the_nation_and_the_nation_before_the_pack() {
        // EN 1993-1-1:2005, 6.1(1) recommends 1.0; 1.1 of the German annex from memory.
        let (value, provenance) = gamma_m1(&Rules::RECOMMENDED);
        assert!(value == "1" && matches!(provenance, Provenance::Factor(_)));
        let german = Rules { national: Some("DE".to_owned()), ..Rules::RECOMMENDED };
        assert_eq!(gamma_m1(&german).0, "1.1");
        let provenance = Provenance::Given("factors.gamma_m1".to_owned());
        let own = OwnFactor { symbol: "gamma_m1".to_owned(), value: 1.2, provenance };
        let own = Rules { own: vec![own], ..german };
        assert_eq!(gamma_m1(&own), ("1.2".to_owned(), own.own[0].provenance.clone()));
    }

    #[test]
    fn what_a_pack_does_not_offer_is_named_with_what_it_does() {
        let provenance = Provenance::Given("factors.gamma_m9".to_owned());
        let rules = Rules {
            edition: Some("1890".to_owned()),
            format: Some("ASD".to_owned()),
            own: vec![OwnFactor { symbol: "gamma_m9".to_owned(), value: 1.0, provenance }],
            ..Rules::RECOMMENDED
        };
        let faults = en_1993::PACK.factors(&rules).unwrap_err();
        let paths: Vec<_> = faults.iter().map(|f| f.path.as_str()).collect();
        assert_eq!(paths, ["edition", "format", "factors[0].symbol"]);
        assert!(faults[0].allowed.contains("2005"), "{}", faults[0]);
    }
}
