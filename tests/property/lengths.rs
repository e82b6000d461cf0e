//! Reading and writing lengths.

use crate::cases;
use notchbook::measure::{EIGHTH, Length, MM, Money, Percent, Round, Unit};
use proptest::prelude::*;

fn any_length() -> impl Strategy<Value = Length> {
    (-Length::MAX.units()..=Length::MAX.units()).prop_map(Length::from_units)
}

proptest! {
    #![proptest_config(cases(2000))]

    #[test]
    fn any_text_is_a_length_or_a_sentence(text in ".{0,40}") {
        for unit in [Unit::Inch, Unit::Cm] {
            if let Err(error) = Length::parse_signed(&text, unit) {
                prop_assert!(error.to_string().ends_with('.'), "{error}");
            }
        }
    }

    /// Texts that look like lengths reach deeper than any characters do.
    #[test]
    fn any_near_length_is_a_length_or_a_sentence(
        text in r#"[-+−]?[ 0-9]{0,12}[-./,'"½⅓⅞ ]{0,3}[0-9]{0,11}[ /'"]{0,2}[0-9]{0,5} ?(in|cm|mm|m|yd|ft|"|'|″|inch|x)?\.? ?[0-9]{0,3}(in|cm|m)?"#,
    ) {
        match Length::parse_signed(&text, Unit::Inch) {
            Ok(length) => prop_assert!(length.abs() <= Length::MAX),
            Err(error) => prop_assert!(error.to_string().ends_with('.'), "{error}"),
        }
    }

    #[test]
    fn an_exact_length_reads_back(length in any_length()) {
        for unit in [Unit::Inch, Unit::Cm] {
            prop_assert_eq!(Length::parse_signed(&length.exact(), unit), Ok(length));
        }
        let json = serde_json::to_string(&length).unwrap();
        prop_assert_eq!(serde_json::from_str::<Length>(&json).unwrap(), length);
    }

    /// A printed length reads back to within its step, on the side it says.
    #[test]
    fn a_printed_length_is_on_the_side_it_says(length in any_length()) {
        for (text, step) in [
            (length.inches(Round::Up), EIGHTH),
            (length.cm(Round::Up), MM),
            (length.cut_one(Unit::Inch), EIGHTH),
            (length.cut_one(Unit::Cm), MM),
        ] {
            // At the very end of the range the next step is beyond it.
            if let Ok(read) = Length::parse_signed(&text, Unit::Inch) {
                prop_assert!(read >= length && read - length < step, "{text}");
            }
        }
        let down = Length::parse_signed(&length.inches(Round::Down), Unit::Inch);
        if let Ok(read) = down {
            prop_assert!(read <= length && length - read < EIGHTH);
        }
    }

    #[test]
    fn money_and_percent_never_panic(text in "[-0-9., %]{0,14}") {
        if let Ok(percent) = text.parse::<Percent>() {
            prop_assert_eq!(percent.to_string().parse::<Percent>(), Ok(percent));
        }
        if let Ok(money) = text.parse::<Money>() {
            prop_assert_eq!(money.to_string().parse::<Money>(), Ok(money));
        }
    }
}
