//! Random projects that can be: every kind of component, every choice, numbers of any length, names of any letters.

#[path = "judged.rs"]
mod judged;
#[path = "site.rs"]
mod site;

use headwise::document::*;
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::engine::links::Characteristic;
use headwise::engine::links::emitter::{CoilArrangement, EmitterLaw};
use headwise::engine::links::fittings::{FittingKind, KSource};
use headwise::engine::pipes::CATALOGUE;
use headwise::engine::pump::{ReferenceFlow, Regulation};
use proptest::collection::{btree_set, vec};
use proptest::option;
use proptest::prelude::*;

/// A number above zero: some as a person types them, some to the last bit, over many orders of magnitude.
fn above_zero() -> BoxedStrategy<f64> {
    prop_oneof![
        (1..5000_u32).prop_map(|n| f64::from(n) / 100.0),
        (1..5000_u32).prop_map(|n| f64::from(n) / 100.0 / 3600.0),
        1e-9..1e9_f64,
        (-30..30_i32, 1.0..10.0_f64).prop_map(|(power, mantissa)| mantissa * 10_f64.powi(power)),
    ]
    .boxed()
}

fn at_least_zero() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 1 => Just(-0.0), 6 => above_zero()]
}

fn share() -> impl Strategy<Value = f64> {
    prop_oneof![(0..=100_u32).prop_map(|n| f64::from(n) / 100.0), 0.0..=1.0_f64]
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![(-400..400_i32).prop_map(f64::from), -1e3..1e3_f64]
}

/// Text with all that a file could trip over.
fn text() -> impl Strategy<Value = String> {
    prop_oneof!["[a-zA-Z' ]{0,12}", "[\"#\\\\r/*(),:é\u{301}\u{200e}\n\r\t\u{0}]{0,12}", ".{0,12}"]
}

fn kind() -> impl Strategy<Value = ComponentKind> {
    let number = above_zero;
    prop_oneof![
        (at_least_zero(), number(), at_least_zero(), option::of(60.0..90.0_f64)).prop_map(
            |(loss, rated_flow, minimum_flow, supply_c)| {
                ComponentKind::Source(Source { loss, rated_flow, minimum_flow, supply_c })
            }
        ),
        pump().prop_map(|unit| ComponentKind::Pump(Box::new(unit))),
        Just(ComponentKind::Junction),
        emitter().prop_map(ComponentKind::Emitter),
        (number(), any::<bool>()).prop_map(|(kv, open)| ComponentKind::ZoneValve { kv, open }),
        (number(), characteristic(), share(), any::<bool>()).prop_map(|(kvs, characteristic, position, shut)| {
            ComponentKind::ControlValve { kvs, characteristic, position, shut }
        }),
        number().prop_map(|kv| ComponentKind::BalancingValve { kv }),
        (number(), 1.0..3.0_f64, -30.0..60.0_f64, number()).prop_map(|(kv, more, set_c, band_k)| {
            ComponentKind::ThermostaticValve { kv, kvs: kv * more, set_c, band_k }
        }),
        (number(), number(), any::<bool>()).prop_map(|(set_flow, least_drop, open)| {
            ComponentKind::PressureIndependentValve { set_flow, least_drop, open }
        }),
        (number(), number(), number()).prop_map(|(set_pressure, band, kv)| ComponentKind::BypassValve {
            set_pressure,
            band,
            kv
        }),
        (number(), at_least_zero()).prop_map(|(kv, cracking)| ComponentKind::CheckValve { kv, cracking }),
        (number(), share(), share()).prop_map(|(kv, part, fouling)| {
            let fouled_kv = if part > 0.0 { kv * part } else { kv };
            ComponentKind::Strainer { kv, fouled_kv, fouling }
        }),
        three_way().prop_map(ComponentKind::ThreeWayValve),
        Just(ComponentKind::PressureGauge),
        Just(ComponentKind::Thermometer),
        number().prop_map(|kv| ComponentKind::FlowMeter { kv }),
        (number(), any::<bool>()).prop_map(|(kv, open)| ComponentKind::IsolationValve { kv, open }),
        option::of(-1e5..1e6_f64).prop_map(|pressure| ComponentKind::ExpansionVessel { pressure }),
        number().prop_map(|bore| ComponentKind::Separator { bore }),
    ]
}

fn characteristic() -> impl Strategy<Value = Characteristic> {
    prop_oneof![
        Just(Characteristic::Linear),
        (1.5..200.0_f64).prop_map(|rangeability| Characteristic::EqualPercentage { rangeability }),
        Just(Characteristic::QuickOpening),
    ]
}

fn three_way() -> impl Strategy<Value = ThreeWayValve> {
    let action = prop_oneof![Just(ThreeWayAction::Mixing), Just(ThreeWayAction::Diverting)];
    (action, above_zero(), characteristic(), above_zero(), characteristic(), share()).prop_map(
        |(action, kvs, characteristic, bypass_kvs, bypass_characteristic, position)| ThreeWayValve {
            action,
            kvs,
            characteristic,
            bypass_kvs,
            bypass_characteristic,
            position,
        },
    )
}

fn emitter() -> impl Strategy<Value = Emitter> {
    let arrangement = prop_oneof![Just(CoilArrangement::Counterflow), Just(CoilArrangement::CrossflowUnmixed)];
    let law = prop_oneof![
        (0.51..1.99_f64).prop_map(|exponent| EmitterLaw::Radiator { exponent }),
        (0.51..1.99_f64).prop_map(|exponent| EmitterLaw::FloorLoop { exponent }),
        (arrangement, share())
            .prop_map(|(arrangement, water_film_share)| EmitterLaw::Coil { arrangement, water_film_share }),
        Just(EmitterLaw::ConstantDrop),
    ];
    let exponent = prop_oneof![Just(2.0), 1.0..=2.0_f64];
    // Leaving air between every room and every supply temperature below; only a coil must tell it.
    let rated_flow = proptest::option::of(above_zero());
    let figures = (law, at_least_zero(), rated_flow, exponent, 21.0..59.0_f64, any::<bool>());
    figures.prop_map(|(law, loss, rated_flow, exponent, air, told)| {
        let air_outlet_c = (told || matches!(law, EmitterLaw::Coil { .. })).then_some(air);
        Emitter { law, loss, rated_flow, exponent, air_outlet_c }
    })
}

fn regulation() -> impl Strategy<Value = Regulation> {
    let reference = prop_oneof![
        Just(ReferenceFlow::FullSpeed),
        Just(ReferenceFlow::CappedSpeed),
        above_zero().prop_map(ReferenceFlow::DesignFlow),
    ];
    (option::of(above_zero()), share(), 0.01..=1.0_f64, share(), reference).prop_map(
        |(head_limit_m, slope, speed_cap, minimum, reference)| Regulation {
            head_limit_m,
            slope,
            speed_cap,
            power_limit_w: None,
            minimum_speed: minimum * speed_cap,
            reference,
        },
    )
}

fn pump() -> impl Strategy<Value = PumpUnit> {
    let steps =
        prop_oneof![
            Just(SettingSteps::default()),
            (0.001..0.1_f64, 0.001..=1.0_f64, 0.001..=1.0_f64)
                .prop_map(|(head_limit, slope, speed_cap)| SettingSteps { head_limit, slope, speed_cap }),
        ];
    // Heads that fall from point to point, so that a curve goes through them, and power above what the water gets.
    let points = vec((0.01..2.0_f64, 0.1..3.0_f64, 0.0..200.0_f64), 2..6).prop_map(|steps| {
        let (mut flow, mut head) = (0.0, steps.iter().map(|step| step.1).sum::<f64>());
        let point = |(more, less, power): (f64, f64, f64)| {
            let point = CataloguePoint { flow: flow / 3600.0, head, power: power + 3.0 * flow * head };
            flow += more;
            head = (head - less).max(0.0);
            point
        };
        steps.into_iter().map(point).collect::<Vec<_>>()
    });
    let inlet = (option::of(-1e5..1e6_f64), option::of(above_zero()));
    let optional = (option::of(above_zero()), option::of(above_zero()), inlet);
    let known = (text(), site::register());
    (points, share(), above_zero(), regulation(), steps, any::<bool>(), known, optional).prop_map(
        |(catalogue, standby, full_speed_rpm, mut regulation, steps, running, (address, register), optional)| {
            let (above_standby, stopped_kv, (least_inlet_pressure, npsh_required)) = optional;
            let least = catalogue.iter().map(|point| point.power).fold(f64::INFINITY, f64::min);
            let standby_power = standby * least;
            // Ten watts more, so that adding cannot round the limit back to the standby power.
            regulation.power_limit_w = above_standby.map(|above| standby_power + 10.0 + above);
            PumpUnit {
                catalogue,
                standby_power,
                full_speed_rpm,
                regulation,
                steps,
                running,
                stopped_kv,
                address,
                register,
                least_inlet_pressure,
                npsh_required,
            }
        },
    )
}

fn component() -> impl Strategy<Value = Component> {
    let turn = prop_oneof![Just(Turn::Right), Just(Turn::Down), Just(Turn::Left), Just(Turn::Up)];
    (text(), [any_number(), any_number()], turn, any_number(), kind())
        .prop_map(|(name, at, turn, height, kind)| Component { height, ..Component::new(name, at, turn, kind) })
}

fn size() -> impl Strategy<Value = Option<SizeOnSale>> {
    let sizes = CATALOGUE.into_iter().flat_map(SizeOnSale::all_of).collect::<Vec<_>>();
    option::of(prop::sample::select(sizes))
}

fn fitting() -> impl Strategy<Value = Fitting> {
    let kinds = prop_oneof![
        prop::sample::select(FittingKind::OF_ONE_BORE.to_vec()),
        above_zero().prop_map(|large_bore_m| FittingKind::SuddenContraction { large_bore_m }),
        above_zero().prop_map(|large_bore_m| FittingKind::TaperedReducer { large_bore_m }),
    ];
    (kinds, prop::sample::select(KSource::ALL.to_vec()), 1..9_u32).prop_map(|(kind, source, count)| Fitting {
        kind,
        count,
        source,
    })
}

/// A pipe between two ends that are chosen later.
fn pipe() -> impl Strategy<Value = (PipeRun, [prop::sample::Index; 2])> {
    let bends = vec([any_number(), any_number()], 0..3);
    let nowhere = PortRef { component: ComponentId(0), port: Port::Inlet };
    let described = (size(), vec(fitting(), 0..3));
    (
        text(),
        at_least_zero(),
        above_zero(),
        share(),
        at_least_zero(),
        bends,
        any::<[prop::sample::Index; 2]>(),
        described,
    )
        .prop_map(move |(name, length, bore, rough, minor_k, bends, ends, (size, mut fittings))| {
            let bore = size.map_or(bore, |size| size.bore());
            let roughness = 0.049 * rough * bore;
            fittings.retain(|fitting| fitting.k(bore).is_ok());
            let straight = PipeRun::straight(nowhere, nowhere, length, bore, roughness);
            let run = PipeRun { name, size, fittings, minor_k, bends, ..straight };
            if run.size.is_some() || !run.fittings.is_empty() {
                return (run, ends);
            }
            let joint = PipeRun { bore: 0.0, roughness: 0.0, ..run.clone() };
            (if run.is_joint() && run.name.is_empty() { joint } else { run }, ends)
        })
}

fn basis() -> impl Strategy<Value = (DesignBasis, Fluid, Acceptance, Limits)> {
    let duty = prop_oneof![Just(Duty::Heating), Just(Duty::Cooling)];
    let fluid = prop_oneof![
        Just((FluidKind::Water, 0.0)),
        (0.0..=0.6_f64).prop_map(|share| (FluidKind::PropyleneGlycol, share)),
        (0..=60_u32).prop_map(|percent| (FluidKind::EthyleneGlycol, f64::from(percent) / 100.0)),
    ]
    .prop_map(|(kind, share)| Fluid::new(kind, share).unwrap());
    let outdoor = option::of(-60.0..-6.0_f64);
    let design = (duty, 60.0..90.0_f64, 25.0..55.0_f64, -5.0..20.0_f64, outdoor).prop_map(
        |(duty, supply_c, return_c, room_c, outdoor_c)| {
            // Rooms to be cooled come out too hot for any air outdoors.
            let outdoor_c = outdoor_c.filter(|_| duty == Duty::Heating);
            DesignBasis { duty, supply_c, return_c, room_c, outdoor_c }
        },
    );
    let acceptance =
        (0.01..0.99_f64, 1.01..9.0_f64, text()).prop_map(|(low, high, source)| Acceptance { low, high, source });
    (design, fluid, acceptance, judged::limits())
}

/// A state of zones that may be there; two of them fit into a year.
fn scenario() -> impl Strategy<Value = Scenario> {
    let shut = btree_set((1..=3_u32).prop_map(ZoneId), 0..3);
    (text(), 0.0..=4392.0_f64, shut, option::of(-70.0..60.0_f64))
        .prop_map(|(name, hours_per_year, shut, outdoor_c)| Scenario { name, hours_per_year, shut, outdoor_c })
}

/// A zone as it is drawn: its emitter and valve to be picked.
type DrawnZone = (String, f64, [prop::sample::Index; 2], bool, Option<f64>, Option<f64>, f64);

/// Two zones cannot share an emitter or a valve: what is taken already is left out.
fn unlike(
    zones: Vec<DrawnZone>,
    pick: impl Fn(prop::sample::Index, fn(&Component) -> bool) -> ComponentId,
) -> Vec<Zone> {
    let mut taken = std::collections::BTreeSet::new();
    let zone = |(name, load, [emitter, valve], has_valve, room_c, return_c, gain): DrawnZone| {
        let emitter = pick(emitter, |c| matches!(c.kind, ComponentKind::Emitter(_)));
        let valve = has_valve.then(|| pick(valve, |c| c.is_open().is_some()));
        let valve = valve.filter(|valve| !taken.contains(valve));
        let is_new = taken.insert(emitter);
        taken.extend(valve.filter(|_| is_new));
        is_new.then_some(Zone { name, load, emitter, valve, room_c, return_c, gain })
    };
    zones.into_iter().filter_map(zone).collect()
}

/// A project without flaws, numbered as a loaded one is.
pub fn project() -> impl Strategy<Value = Project> {
    let zone = (
        text(),
        above_zero(),
        any::<[prop::sample::Index; 2]>(),
        any::<bool>(),
        option::of(-5.0..20.0_f64),
        option::of(25.0..55.0_f64),
        at_least_zero(),
    );
    let lists = (vec(component(), 0..8), vec(pipe(), 0..6), vec(zone, 0..4), vec(scenario(), 0..3));
    let outdoor_now = option::of(-70.0..60.0_f64);
    (text(), text(), basis(), outdoor_now, emitter(), lists, judged::judged(), site::written()).prop_map(
        |(title, notes, (design, fluid, acceptance, limits), outdoor_now_c, emitter, lists, judged, written)| {
            let (mut components, pipes, zones, scenarios) = lists;
            let extra = |name: &str, kind| Component::new(name, [0.0, 0.0], Turn::Right, kind);
            components.push(extra("e", ComponentKind::Emitter(emitter)));
            components.push(extra("v", ComponentKind::ZoneValve { kv: 1.0, open: true }));
            components.push(extra("j", ComponentKind::Junction));
            // A number at the end makes every name unlike the others.
            for (number, component) in (1..).zip(&mut components) {
                component.name = format!("{}{number}", component.name);
            }
            let components: std::collections::BTreeMap<_, _> = (1..).map(ComponentId).zip(components).collect();
            let pick = |index: prop::sample::Index, fits: fn(&Component) -> bool| {
                let fitting: Vec<_> = components.iter().filter(|(_, c)| fits(c)).map(|(id, _)| *id).collect();
                *index.get(&fitting)
            };
            let pipes = (1..).zip(pipes).map(|(number, (mut pipe, ends))| {
                let [from, to] = ends.map(|end| pick(end, |_| true));
                let last = |id| *components[&id].ports().last().unwrap();
                pipe.from = PortRef { component: from, port: components[&from].ports()[0] };
                // A junction's one port cannot be both ends: then the last component, also a junction, or the first of two.
                let other = if from == to && components[&to].ports().len() == 1 {
                    pick(ends[0], |c| c.ports().len() == 2)
                } else {
                    to
                };
                pipe.to = PortRef { component: other, port: last(other) };
                if !pipe.name.is_empty() {
                    pipe.name = format!("{}{number}", pipe.name);
                }
                (PipeId(number), pipe)
            });
            let zones = unlike(zones, pick);
            let zones: std::collections::BTreeMap<_, _> = (1..)
                .zip(zones)
                .map(|(number, zone)| (ZoneId(number), Zone { name: format!("{}{number}", zone.name), ..zone }))
                .collect();
            let numbered = |(number, mut scenario): (u32, Scenario)| {
                scenario.name = format!("{}{number}", scenario.name);
                scenario.shut.retain(|zone| zones.contains_key(zone));
                scenario
            };
            let scenarios = (1..).zip(scenarios).map(numbered).collect();
            let pipes = pipes.collect();
            let project = Project {
                title,
                notes,
                design,
                outdoor_now_c,
                fluid,
                acceptance,
                limits,
                components,
                pipes,
                zones,
                scenarios,
                ..written
            };
            let project = judged.given_to(project);
            if project.design.duty == Duty::Cooling { mirrored(project) } else { project }
        },
    )
}

/// Turns a heating design into one for cooling: every temperature is mirrored, so that what lay above lies below.
fn mirrored(mut project: Project) -> Project {
    let mirror = |celsius: &mut f64| *celsius = 90.0 - *celsius;
    let design = &mut project.design;
    [&mut design.supply_c, &mut design.return_c, &mut design.room_c].into_iter().for_each(mirror);
    for zone in project.zones.values_mut() {
        zone.room_c.iter_mut().chain(&mut zone.return_c).for_each(mirror);
    }
    for component in project.components.values_mut() {
        match &mut component.kind {
            ComponentKind::Emitter(emitter) => emitter.air_outlet_c.iter_mut().for_each(mirror),
            ComponentKind::Source(source) => source.supply_c.iter_mut().for_each(mirror),
            _ => {}
        }
    }
    project
}
