//! The page of an answer.

use askama::Template;
use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, css_text, quoted};
use crate::numbers;
use crate::sections::answer::Answer;
use crate::sections::checks::{Group, Part, groups, parts};
use crate::sections::drawings::{Mount, mounts};
use crate::sections::loads::{
    Case, Interface, Walk, arrow_reference, car, cases, interfaces, walks,
};
use crate::sections::open::{Guesses, Unchecked, guesses, unchecked};
use crate::sections::plates::{self, PlateMount};
use crate::sections::sums::{Sum, sums};
use crate::state::State;
use crate::svg::marks::{badge, badge_and_word};
use crate::svg::scale;
use crate::units::Units;
use crate::views::cradle::{self, Drawn};

/// Stands where a response carries no cautions: no answer goes without.
pub(crate) const LEAST_CAUTION: &str = "This is a calculation aid on the data you entered. It does \
    not approve a vehicle. Before road use the design, the welds and the finished car must be \
    examined and accepted by the person or body your country's rules require.";

/// The look, for both pages.
pub(crate) const STYLE: &str = include_str!("../templates/style.css");

const SCRIPT: &str = include_str!("../templates/page.js");

/// One self-contained HTML page that shows `response`, the answer to `request`, in `units`.
///
/// The page loads nothing: style, script and drawings stand in it. Same input, same bytes. A
/// response without scene, cases, findings or derivations gives a page that says so.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::{Units, page};
///
/// let response = v1::CheckProjectResponse { title: "Van".into(), ..Default::default() };
/// let page = page(&v1::CheckProjectRequest::default(), &response, Units::Si);
/// assert!(page.contains("Van: no answer"));
/// ```
#[must_use]
pub fn page(
    request: &v1::CheckProjectRequest,
    response: &v1::CheckProjectResponse,
    units: Units,
) -> String {
    let mut told = response.clone();
    units.rewrite_check(&mut told);
    let given = Given::new(request, &told).in_units(units);
    let page = Page::new(given);
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("page".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "page.html")]
struct Page {
    title: String,
    css_title: String,
    style: &'static str,
    scale: String,
    script: &'static str,
    rules: String,
    answer: Answer,
    cases: Vec<Case>,
    arrow_reference: String,
    mount_names: Vec<(String, String)>,
    whole: Option<[String; 2]>,
    cargo: Vec<Drawn>,
    mounts: Vec<Mount>,
    plates: Vec<PlateMount>,
    groups: Vec<Group>,
    parts: Vec<Part>,
    sums: Vec<Sum>,
    derived: bool,
    interfaces: Vec<Interface>,
    walks: Vec<Walk>,
    guesses: Guesses,
    unchecked: Vec<Unchecked>,
    not_checked_mark: String,
    open_mark: String,
    assumptions: Vec<String>,
    not_covered: Vec<String>,
    cautions: Vec<String>,
    totals: Option<String>,
    car: Option<String>,
    stamp: Vec<String>,
    words: Words,
    units_remark: &'static str,
}

/// Units in the words of the templates.
#[derive(Debug)]
struct Words {
    /// Of forces in tables.
    force: &'static str,
    /// Of moments in tables.
    moment: String,
    /// Of forces in pictures.
    picture: &'static str,
}

impl Page {
    fn new(given: Given<'_>) -> Self {
        let response = given.response;
        let title = given.title().to_owned();
        let stamp = response.stamp.clone().unwrap_or_default();
        let cautions = if response.cautions.is_empty() {
            vec![LEAST_CAUTION.to_owned()]
        } else {
            response.cautions.clone()
        };
        let plates = plates::mounts(given);
        Self {
            css_title: css_text(&title),
            title,
            style: STYLE,
            // Only where something is coloured by it.
            scale: if plates.is_empty() { String::new() } else { scale::style() },
            script: SCRIPT,
            rules: stamp.rules.clone(),
            answer: Answer::new(given),
            cases: cases(given),
            arrow_reference: arrow_reference(given),
            mount_names: response.mounts.iter().map(|m| (m.id.clone(), capital(&m.name))).collect(),
            whole: cradle::draw(given),
            cargo: cradle::cargo(given),
            mounts: mounts(given),
            plates,
            groups: groups(given),
            parts: parts(given),
            derived: response.rows.iter().any(|r| !r.derivation.is_empty()),
            sums: sums(given),
            interfaces: interfaces(given),
            walks: walks(given),
            guesses: guesses(given),
            unchecked: unchecked(given),
            not_checked_mark: badge_and_word(State::NotChecked),
            open_mark: badge(State::NotChecked),
            assumptions: response.assumptions.iter().map(|t| capital(&quoted(t))).collect(),
            not_covered: response.not_covered.iter().map(|t| capital(&quoted(t))).collect(),
            cautions,
            car: response.car.as_ref().map(|c| car(c, given.units)),
            totals: response.totals.as_ref().map(|t| totals(t, given.units)),
            stamp: stamp_lines(&stamp, response.stamp.is_some()),
            words: Words {
                force: if given.units == Units::Si { "N" } else { "lbf" },
                moment: given.units.unit("N m").replace(' ', "\u{A0}"),
                picture: numbers::force_unit(given.units),
            },
            units_remark: given.units.remark(),
        }
    }
}

fn totals(totals: &v1::Totals, units: Units) -> String {
    let mass = numbers::fixed(units.value(totals.part_mass_kg, "kg"), 2);
    let weld = numbers::fixed(units.value(totals.weld_length_mm, "mm"), 0);
    format!(
        "The design adds {} of steel, {} of weld and {} bolts.",
        numbers::with_unit(&mass, units.unit("kg")),
        numbers::with_unit(&weld, units.unit("mm")),
        totals.bolt_count
    )
}

fn stamp_lines(stamp: &v1::Stamp, stamped: bool) -> Vec<String> {
    let imbalance = if stamped { stamp.largest_imbalance } else { f64::NAN };
    let or_dash = |text: &str| {
        if text.is_empty() { numbers::NOT_FOUND.to_owned() } else { text.to_owned() }
    };
    vec![
        format!("Fishplate {}", or_dash(&stamp.engine_version)),
        format!("rules {}", or_dash(&stamp.rules)),
        format!("project {}", or_dash(&stamp.project_hash)),
        format!("largest imbalance of forces {}", numbers::power_of_ten(imbalance, 1)),
        "This sheet holds all it needs; it fetches nothing.".to_owned(),
    ]
}

#[cfg(test)]
mod tests {
    use fishplate_proto::v1;

    use super::*;
    use crate::test_support::van::{request, response};
    use crate::test_support::wellformed::assert_closed;

    /// Writes the page for a look at it where `FISHPLATE_PAGE_DIR` says so.
    fn shown(name: &str, page: &str) {
        if let Some(folder) = std::env::var_os("FISHPLATE_PAGE_DIR") {
            std::fs::write(std::path::Path::new(&folder).join(name), page).unwrap();
        }
    }

    fn van() -> String {
        page(&request(), &response(), Units::Si)
    }

    #[test]
    fn every_element_closes() {
        let page = van();
        shown("van.html", &page);
        assert_closed(&page);
    }

    #[test]
    fn the_same_input_gives_the_same_bytes() {
        assert_eq!(van(), van());
    }

    /// The texts of the invented answer name no unit that is left alone.
    #[test]
    fn in_inches_and_pounds_nothing_metric_is_left() {
        let page = page(&request(), &response(), Units::Us);
        shown("van-us.html", &page);
        assert_closed(&page);
        let body = &page[page.find("<body>").unwrap()..];
        for unit in ["mm<", " mm", "\u{A0}mm", "MPa", " kN", "\u{A0}kN", ", N<", "\u{A0}N<", " N<"]
        {
            let at = body.find(unit);
            assert!(at.is_none(), "{unit}: {:?}", at.map(|a| &body[a.saturating_sub(60)..a + 5]));
        }
        assert!(body.contains("lbf") && body.contains("ksi") && body.contains("\u{A0}in"));
    }

    #[test]
    fn nothing_is_fetched() {
        let page = van();
        for way in
            ["http:", "https:", "//", "url(", "@import", "src=", "<link", "fetch(", "XMLHttp"]
        {
            let places = page.matches(way).count();
            // The hatch of the sheet itself is the only thing that is referred to.
            let own = if way == "url(" { page.matches("url(#hatch)").count() } else { 0 };
            assert_eq!(places, own, "{way}");
        }
    }

    #[test]
    fn every_row_and_every_case_can_be_found() {
        let page = van();
        for row in response().rows {
            assert!(page.contains(&format!("id=\"row-{}\"", row.id)), "{}", row.id);
            assert!(page.contains(&format!("id=\"sum-{}\"", row.id)), "{}", row.id);
        }
        for case in response().cases {
            assert!(page.contains(&format!("<button type=\"button\" data-c=\"{}\"", case.name)));
        }
    }

    #[test]
    fn the_case_of_the_worst_row_is_shown_first() {
        assert!(van().contains("data-c=\"P1\" aria-pressed=\"true\""));
        assert!(van().contains("data-c=\"K1\" aria-pressed=\"false\""));
    }

    #[test]
    fn text_from_outside_stays_text() {
        let hostile = "</title></style><script>alert('\"&')</script>";
        let (mut request, mut response) = (request(), response());
        let all = |text: &mut String| *text = hostile.to_owned();
        response.title = hostile.to_owned();
        request.project.iter_mut().for_each(|p| all(&mut p.title));
        response.findings.iter_mut().for_each(|f| {
            [&mut f.row_id, &mut f.what, &mut f.in_case, &mut f.what_helps]
                .into_iter()
                .for_each(all);
        });
        for row in &mut response.rows {
            let texts =
                [&mut row.id, &mut row.component, &mut row.what, &mut row.clause, &mut row.unit];
            texts.into_iter().for_each(all);
            row.derivation.iter_mut().for_each(|s| {
                let texts = [&mut s.symbol, &mut s.what, &mut s.expression, &mut s.numbers];
                texts.into_iter().for_each(all);
                [&mut s.unit, &mut s.source].into_iter().for_each(all);
            });
        }
        response.mounts.iter_mut().for_each(|m| all(&mut m.name));
        response
            .cases
            .iter_mut()
            .for_each(|c| [&mut c.name, &mut c.title].into_iter().for_each(all));
        if let Some(scene) = &mut response.scene {
            scene.solids.iter_mut().for_each(|s| all(&mut s.name));
            scene.welds.iter_mut().for_each(|w| all(&mut w.name));
        }
        response.cautions.iter_mut().for_each(all);
        for mount in &mut response.plate_mounts {
            all(&mut mount.mount_id);
            mount.assumptions.iter_mut().for_each(all);
            mount
                .parts
                .iter_mut()
                .for_each(|p| [&mut p.name, &mut p.wall].into_iter().for_each(all));
            mount.views.iter_mut().for_each(|v| all(&mut v.case_name));
            mount.runs.iter_mut().for_each(|r| all(&mut r.weld));
            mount.bolts.iter_mut().for_each(|b| all(&mut b.bolt));
            mount.facings.iter_mut().for_each(|f| all(&mut f.name));
            mount.buckling.iter_mut().for_each(|b| all(&mut b.part));
        }
        for two in response.rows.iter_mut().filter_map(|r| r.second_opinion.as_mut()) {
            [&mut two.reason, &mut two.how, &mut two.hand_case_name].into_iter().for_each(all);
        }
        let page = page(&request, &response, Units::Si);
        assert_closed(&page);
        assert!(!page.contains("<script>alert"));
        assert_eq!(page.matches("</script>").count(), 1);
        assert_eq!(page.matches("</style>").count(), 1);
    }

    #[test]
    fn an_empty_answer_is_a_page_that_passes_nothing() {
        let page = page(
            &v1::CheckProjectRequest::default(),
            &v1::CheckProjectResponse::default(),
            Units::Si,
        );
        shown("empty.html", &page);
        assert_closed(&page);
        assert!(page.contains("no answer") && page.contains("Nothing was checked"));
        assert!(page.contains("does not approve a vehicle"));
        assert!(!page.contains("st st-holds"));
    }

    #[test]
    fn more_than_five_findings_are_counted() {
        let mut response = response();
        let one = response.findings[0].clone();
        response.findings = vec![one; 8];
        let page = page(&request(), &response, Units::Si);
        assert_eq!(page.matches("<li class=\"find\">").count(), 5);
        assert!(page.contains("and 3 more that exceed"));
    }

    #[test]
    fn without_findings_the_highest_is_told_and_provisional_is_not_passed() {
        let mut response = response();
        response.verdict = v1::Verdict::Provisional.into();
        response.findings.clear();
        response.rows.retain(|r| r.state() != v1::State::Exceeds);
        let page = page(&request(), &response, Units::Si);
        shown("provisional.html", &page);
        assert_closed(&page);
        assert!(page.contains("The highest of the checks that were made"));
        assert!(page.contains(": provisional</h1>") && page.contains("0.25 of the limit is left"));
    }

    #[test]
    fn broken_numbers_never_reach_the_page() {
        let mut response = response();
        for case in &mut response.cases {
            case.spring_left_n = f64::NAN;
            for force in &mut case.mount_forces {
                force.force_x_n = f64::INFINITY;
            }
        }
        response.rows[0].utilisation = Some(f64::NAN);
        response.rows[1].demand = f64::NAN;
        if let Some(scene) = &mut response.scene {
            scene.solids[0].faces[0].corners[0].x_mm = f64::NAN;
            scene.bolts[0].diameter_mm = f64::NAN;
            scene.wheels[0].radius_mm = f64::NAN;
        }
        let page = page(&request(), &response, Units::Si);
        assert_closed(&page);
        assert!(!page.contains("NaN") && !page.contains("inf<") && !page.contains("\"inf"));
    }

    #[test]
    fn without_a_scene_or_cases_it_says_so() {
        let mut response = response();
        response.scene = None;
        response.cases.clear();
        let page = page(&request(), &response, Units::Si);
        assert_closed(&page);
        assert!(page.contains("No load case was run") && page.contains("nothing to draw"));
    }

    #[test]
    fn plates_are_told_only_where_the_answer_has_them() {
        let page_of = |response: &v1::CheckProjectResponse| page(&request(), response, Units::Si);
        let with = page_of(&response());
        assert!(with.contains("<section id=\"plates\"") && with.contains("--m7:#"));
        assert!(with.contains("Not solved.") && with.contains("9 mm away from"));
        assert!(
            with.contains("class=\"two-op\"") && with.contains("Likely reason: the stress piles")
        );
        // Every frame has its picture.
        assert!(!with.contains("</figcaption></figure>"));
        let mut bare = response();
        bare.plate_mounts.clear();
        bare.rows.iter_mut().for_each(|r| r.second_opinion = None);
        let without = page_of(&bare);
        assert_closed(&without);
        let body = &without[without.find("<body>").unwrap()..];
        assert!(
            !body.contains("plates") && !body.contains("two-op") && !without.contains("--m7:#")
        );
    }

    #[test]
    fn the_cautions_of_the_answer_are_always_there() {
        assert!(van().contains("An invented caution"));
    }

    #[test]
    fn colours_stay_in_the_style_sheet() {
        let page = van();
        let body = &page[page.find("<body>").unwrap()..];
        assert!(!body.contains("style=") && !body.contains("fill=\"#"));
    }

    #[test]
    fn a_fault_page_names_every_fault_and_passes_nothing() {
        let faults = [
            ("line 41, column 13".to_owned(), "A length needs its unit: \"2.2 mm\"".to_owned()),
            (String::new(), "<b>second</b>".to_owned()),
        ];
        let page = crate::fault_page("Cannot read van.toml", &faults);
        shown("fault.html", &page);
        assert_closed(&page);
        assert!(page.contains("2 faults. Nothing was checked."));
        assert!(page.contains("line 41, column 13") && page.contains("&#60;b&#62;second"));
        assert!(!page.contains("st st-holds"));
    }
}
