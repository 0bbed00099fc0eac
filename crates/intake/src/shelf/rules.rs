//! Rules about pots, switched off and on.

use pot::fit::rule::RuleId;
use store::store::{Act, Store};

use crate::record::{FormError, bad};

/// Switches a rule about pots off, or on again, for all trees; false if it stood so.
///
/// # Errors
///
/// [`FormError`] when there is no such rule.
pub fn pot_rule(store: &mut Store, rule: &str, off: bool) -> Result<bool, FormError> {
    let rule = RuleId::of(rule).ok_or_else(|| bad("rule", rule, "is none that we have"))?.rule().key;
    Ok(store.transact(&Act::PotRule(rule.into()), |change| change.switch_pot_rule(rule, off))?)
}
