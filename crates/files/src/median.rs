//! The middle of some numbers.

/// A number that has an order and a middle.
pub(crate) trait Ordered: Copy {
    /// The order of two, every number counted.
    fn order(a: &Self, b: &Self) -> std::cmp::Ordering;
}

impl Ordered for f32 {
    fn order(a: &Self, b: &Self) -> std::cmp::Ordering {
        a.total_cmp(b)
    }
}

impl Ordered for f64 {
    fn order(a: &Self, b: &Self) -> std::cmp::Ordering {
        a.total_cmp(b)
    }
}

/// The middle value, the upper one of two; none of nothing. The values are put into
/// another order.
pub(crate) fn median<N: Ordered>(values: &mut [N]) -> Option<N> {
    if values.is_empty() {
        return None;
    }
    let middle = values.len() / 2;
    Some(*values.select_nth_unstable_by(middle, N::order).1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_is_found_in_any_order() {
        assert_eq!(median(&mut [3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(&mut [4.0_f32, 1.0, 3.0, 2.0]), Some(3.0));
        assert_eq!(median::<f64>(&mut []), None);
    }
}
