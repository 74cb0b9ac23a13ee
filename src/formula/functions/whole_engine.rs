//! Functions that take a whole engine: how a struct of the physics becomes arguments in a row, in one
//! order for all, so that a pack binds the engine once.

use super::entry::{Argument, next};
use crate::physics::fit::Engine;
use crate::quantity::{
    AbsolutePressure, Area, MassFlow, PressureDifference, Quantity, Rotation, Temperature,
    TemperatureDifference, Volume,
};

/// A struct that a function takes, as arguments in a row.
pub(super) trait Arguments: Sized {
    const ARGUMENTS: &'static [Argument];

    /// Takes its arguments off the ones given.
    fn read(given: &mut dyn Iterator<Item = f64>) -> Self;
}

/// The arguments in their order, and the struct that they make.
macro_rules! arguments {
    ($of:ident = $made:expr; $($name:ident: $type:ty = $range:literal,)*) => {
        impl Arguments for $of {
            const ARGUMENTS: &'static [Argument] = &[$(Argument {
                name: stringify!($name),
                kind: <$type as Quantity>::KIND,
                range: $range,
            }),*];

            fn read(mut given: &mut dyn Iterator<Item = f64>) -> Self {
                $(let $name: $type = next(&mut given);)*
                $made
            }
        }
    };
}

/// Wraps `function(Type, ..., &Struct, ...) -> Result<Type, Refusal>` into table entries.
macro_rules! functions_of_an_engine {
    ($($subject:literal {$(
        $name:ident($($argument:ident: $type:ty = $range:literal),*; $($last:ty),+)
            -> $gives:ty = $function:path $(, remarks $remarks:path)?, $summary:literal;
    )*})*) => {
        pub(super) const FUNCTIONS: &[Function] = &[$($(
            Function {
                name: stringify!($name),
                subject: $subject,
                arguments: {
                    const OWN: &[Argument] = &[$(Argument {
                        name: stringify!($argument),
                        kind: <$type as Quantity>::KIND,
                        range: $range,
                    }),*];
                    const COUNT: usize = OWN.len() $(+ <$last as Arguments>::ARGUMENTS.len())+;
                    const ALL: [Argument; COUNT] =
                        joined(&[OWN, $(<$last as Arguments>::ARGUMENTS),+]);
                    &ALL
                },
                gives: <$gives as Quantity>::KIND,
                summary: $summary,
                source: SOURCE,
                slow: true,
                call: |given| {
                    let mut given = given.iter().copied();
                    $(let $argument: $type = next(&mut given);)*
                    let result: Result<$gives, Refusal> =
                        $function($($argument,)* $(&<$last>::read(&mut given)),+);
                    Ok(result?.si())
                },
                remarks: functions_of_an_engine!(
                    @remarks [$($argument: $type),*] [$($last),+] $($remarks)?
                ),
            },
        )*)*];
    };
    (@remarks [$($argument:ident: $type:ty),*] [$($last:ty),+]) => { |_| Vec::new() };
    (@remarks [$($argument:ident: $type:ty),*] [$($last:ty),+] $remarks:path) => {
        |given| {
            let mut given = given.iter().copied();
            $(let $argument: $type = next(&mut given);)*
            $remarks($($argument,)* $(&<$last>::read(&mut given)),+)
        }
    };
}

pub(super) use {arguments, functions_of_an_engine};

arguments! {
    Engine = Self {
        speed,
        discharge_coefficient,
        leak_area,
        volume_per_turn,
        volumetric_efficiency,
        lambda,
        ambient,
        ambient_temperature,
        inlet_heating,
        inlet_drop,
        charge_drop,
        exhaust_drop,
        reference_flow,
        compressor_efficiency,
        cooler_effectiveness,
        turbine_efficiency,
        mechanical_efficiency,
        turbine_inlet_temperature,
    };
    speed: Rotation = "0 or more",
    discharge_coefficient: f64 = "above 0, at most 1",
    leak_area: Area = "0 or more, the effective one of a shut gate",
    volume_per_turn: Volume = "above 0; half the displacement of a four-stroke, a chamber a rotor",
    volumetric_efficiency: f64 = "above 0, at most 2; on the density in the manifold",
    lambda: f64 = "0.8 to 1.15",
    ambient: AbsolutePressure = "above 0",
    ambient_temperature: Temperature = "above 0 K",
    inlet_heating: TemperatureDifference = "of the air on its way to the compressor",
    inlet_drop: PressureDifference = "0 or more, at the reference flow",
    charge_drop: PressureDifference = "0 or more, at the reference flow",
    exhaust_drop: PressureDifference = "0 or more, at the reference flow",
    reference_flow: MassFlow = "above 0, of air",
    compressor_efficiency: f64 = "above 0, at most 1",
    cooler_effectiveness: f64 = "0 to 1",
    turbine_efficiency: f64 = "above 0, at most 1",
    mechanical_efficiency: f64 = "above 0, at most 1; 1 where the turbine's efficiency holds it",
    turbine_inlet_temperature: Temperature = "300 to 1500 K",
}
