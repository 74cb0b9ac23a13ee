//! The gases of which burned petrol gas consists: NASA nine-coefficient polynomials (McBride, Zehe and
//! Gordon, NASA/TP-2002-211556), typed from memory; the tests hold them against the enthalpies of
//! formation and entropies printed there, and against another library's polynomials.

/// Polynomial of one species: seven coefficients of c_p/R in T⁻² to T⁴, then the constants of
/// integration of enthalpy and entropy.
type Polynomial = [f64; 9];

pub(super) struct Species {
    /// g/mol (IUPAC standard atomic weights).
    pub(super) molar_mass: f64,
    /// 200 to 1000 K.
    cool: Polynomial,
    /// 1000 to 6000 K.
    hot: Polynomial,
}

#[rustfmt::skip]
pub(super) const CARBON_DIOXIDE: Species = Species {
    molar_mass: 44.009,
    cool: [49_436.505_4, -626.411_601, 5.301_725_24, 2.503_813_816e-3, -2.127_308_728e-7,
        -7.689_988_78e-10, 2.849_677_801e-13, -45_281.984_6, -7.048_279_44],
    hot: [117_696.241_9, -1_788.791_477, 8.291_523_19, -9.223_156_78e-5, 4.863_676_88e-9,
        -1.891_053_312e-12, 6.330_036_59e-16, -39_083.505_9, -26.526_692_81],
};

#[rustfmt::skip]
pub(super) const CARBON_MONOXIDE: Species = Species {
    molar_mass: 28.010,
    cool: [14_890.453_26, -292.228_593_9, 5.724_527_17, -8.176_235_03e-3, 1.456_903_469e-5,
        -1.087_746_302e-8, 3.027_941_827e-12, -13_031.318_78, -7.859_241_35],
    hot: [461_919.725, -1_944.704_863, 5.916_714_18, -5.664_282_83e-4, 1.398_814_54e-7,
        -1.787_680_361e-11, 9.620_935_57e-16, -2_466.261_084, -13.874_131_08],
};

#[rustfmt::skip]
pub(super) const WATER_VAPOUR: Species = Species {
    molar_mass: 18.015,
    cool: [-39_479.608_3, 575.573_102, 0.931_782_653, 7.222_712_86e-3, -7.342_557_37e-6,
        4.955_043_49e-9, -1.336_933_246e-12, -33_039.743_1, 17.242_057_75],
    hot: [1_034_972.096, -2_412.698_562, 4.646_110_78, 2.291_998_307e-3, -6.836_830_48e-7,
        9.426_468_93e-11, -4.822_380_53e-15, -13_842.865_09, -7.978_148_51],
};

#[rustfmt::skip]
pub(super) const HYDROGEN: Species = Species {
    molar_mass: 2.016,
    cool: [40_783.232_1, -800.918_604, 8.214_702_01, -1.269_714_457e-2, 1.753_605_076e-5,
        -1.202_860_27e-8, 3.368_093_49e-12, 2_682.484_665, -30.437_888_44],
    hot: [560_812.801, -837.150_474, 2.975_364_532, 1.252_249_124e-3, -3.740_716_19e-7,
        5.936_625_2e-11, -3.606_994_1e-15, 5_339.824_41, -2.202_774_769],
};

#[rustfmt::skip]
pub(super) const OXYGEN: Species = Species {
    molar_mass: 31.998,
    cool: [-34_255.634_2, 484.700_097, 1.119_010_961, 4.293_889_24e-3, -6.836_300_52e-7,
        -2.023_372_7e-9, 1.039_040_018e-12, -3_391.454_87, 18.496_994_7],
    hot: [-1_037_939.022, 2_344.830_282, 1.819_732_036, 1.267_847_582e-3, -2.188_067_988e-7,
        2.053_719_572e-11, -8.193_467_05e-16, -16_890.109_29, 17.387_165_06],
};

#[rustfmt::skip]
pub(super) const NITROGEN: Species = Species {
    molar_mass: 28.014,
    cool: [22_103.714_97, -381.846_182, 6.082_738_36, -8.530_914_41e-3, 1.384_646_189e-5,
        -9.625_793_62e-9, 2.519_705_809e-12, 710.846_086, -10.760_037_44],
    hot: [587_712.406, -2_239.249_073, 6.066_949_22, -6.139_685_5e-4, 1.491_806_679e-7,
        -1.923_105_485e-11, 1.061_954_386e-15, 12_832.104_15, -15.866_400_27],
};

#[rustfmt::skip]
pub(super) const ARGON: Species = Species {
    molar_mass: 39.948,
    cool: [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.379_674_91],
    hot: [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.379_674_91],
};

impl Species {
    fn polynomial(&self, temperature: f64) -> &Polynomial {
        if temperature < 1000.0 { &self.cool } else { &self.hot }
    }

    /// c_p/R (NASA/TP-2002-211556, eq. 1).
    pub(super) fn heat_capacity(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, ..] = self.polynomial(t);
        (a1 / t + a2) / t + a3 + t * (a4 + t * (a5 + t * (a6 + t * a7)))
    }

    /// H/(R·T), enthalpies of formation at 298.15 K included (same, eq. 2).
    pub(super) fn enthalpy(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, b1, _] = self.polynomial(t);
        let series = a3 + t * (a4 / 2.0 + t * (a5 / 3.0 + t * (a6 / 4.0 + t * a7 / 5.0)));
        -a1 / (t * t) + a2 * t.ln() / t + series + b1 / t
    }

    /// S/R at 1 bar (same, eq. 3).
    pub(super) fn entropy(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, _, b2] = self.polynomial(t);
        let series = t * (a4 + t * (a5 / 2.0 + t * (a6 / 3.0 + t * a7 / 4.0)));
        -a1 / (2.0 * t * t) - a2 / t + a3 * t.ln() + series + b2
    }

    /// G/(R·T) at 1 bar.
    pub(super) fn gibbs(&self, t: f64) -> f64 {
        self.enthalpy(t) - self.entropy(t)
    }
}
