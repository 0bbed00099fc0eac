//! What a grower means to do with each limb.

/// What is done with a limb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// It runs.
    Run,
    /// Every year its new shoots are cut back to so many nodes.
    KeepShort {
        /// Nodes left of each shoot.
        nodes: u32,
    },
    /// Once, its line is cut at this share of its length.
    Shorten {
        /// What is left, from 0 to 1.
        keep: f64,
    },
    /// Once, it is taken off.
    Remove,
    /// Every year so many shoots are left at a node, the thickest.
    Thin {
        /// Shoots left.
        shoots: u32,
    },
}

/// When it is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// While it rests.
    Dormant,
    /// Once the first shoots have hardened.
    Summer,
}

/// What is done with one limb, and when.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    /// The limb: the number of its axis.
    pub limb: u32,
    /// What is done.
    pub act: Act,
    /// When.
    pub when: When,
}

/// What is done with the tree; limbs that are not named run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The orders.
    pub orders: Vec<Order>,
}

impl Plan {
    /// A plan that lets everything run.
    pub fn let_run() -> Plan {
        Plan::default()
    }

    /// A plan that does the same with each of these limbs.
    pub fn all(limbs: impl IntoIterator<Item = u32>, act: Act, when: When) -> Plan {
        Plan { orders: limbs.into_iter().map(|limb| Order { limb, act, when }).collect() }
    }
}
