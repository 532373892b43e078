//! Data buses: their way, terminators, bias and addresses.

pub(crate) mod bus_addresses;
pub(crate) mod bus_verdict;
pub(crate) mod bus_words;

checks! {
    bus_port_shared,
    bus_branched,
    bus_terminator_missing,
    bus_terminator_misplaced,
    bus_terminator_surplus,
    bus_terminator_value,
    bus_overloaded,
    bus_bias_unknown,
    bus_bias_low,
    bus_too_long,
    bus_rate_missing,
    bus_address_repeated,
    bus_address_passed_on,
    bus_address_out_of_range,
    bus_ground_shift,
    bus_port_figures_missing,
}
