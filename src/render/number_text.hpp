#pragma once

#include <string>

#include "base/plain_number.hpp"

/// Numbers as a reader wants them. None of these ever gives "-0".
namespace mendworth {

/// An amount with the currency's digits and no code, "12.50"; rounded half away from zero in decimal, so that
/// 1.005 becomes 1.01 although its binary value lies below. Throws std::domain_error if it is not finite.
[[nodiscard]] std::string money_text(double amount, int minor_digits);

/// An estimated amount with the digits that its standard error supports and no others: rounded to the place of the
/// error's first digit, 12.34 within 1.5 to "12", within 23 to "10"; to the currency's digits where the error is
/// smaller or zero. Throws std::domain_error if a number is not finite or the error is negative.
[[nodiscard]] std::string supported_money_text(double amount, double error, int minor_digits);

/// Such an error itself, two significant digits and none beyond the currency's: "1.5", "23", "0.08".
[[nodiscard]] std::string error_text(double error, int minor_digits);

/// An estimate with the digits that the half width of its interval supports, and the interval: "63.4 (63.1 to 63.7)".
/// Without width: number_text. Throws std::domain_error if a number is not finite or the interval falls.
[[nodiscard]] std::string interval_text(double value, double low, double high);

/// A time from now as one says it, which is never exact: "8 months", "2 1/2 years", "4 years", "25 years". Months
/// below 15 of them, half years below 3 3/4 years, years below 20, beyond that five years. "0 months" is now.
[[nodiscard]] std::string rough_years_text(double years);

/// A price of one piece, which often carries more digits than the currency: up to four are shown, where they say
/// something.
[[nodiscard]] std::string unit_price_text(double each, int minor_digits);

/// Like money_text with a sign on everything but zero: "+12.50".
[[nodiscard]] std::string signed_money_text(double amount, int minor_digits);

/// An estimated life, in any unit: three significant digits: "1520000", "18.2".
[[nodiscard]] std::string life_text(double life);

/// At most so many digits after the point, none idle.
[[nodiscard]] std::string decimals_text(double value, int most_decimals);

/// A share as a percentage, with one digit near the ends: "3.4 %", "91 %", "99.3 %", "<0.1 %". What is far out of
/// any scale is said so: ">9999 %".
[[nodiscard]] std::string percent_text(double share);

/// "1 year", "0.4 years", "5 years": at most two digits after the point; in days below a tenth of a year.
[[nodiscard]] std::string years_text(double years);

/// "1 day", "3.5 days": at most one digit after the point.
[[nodiscard]] std::string days_text(double days);

/// "1 piece", "3 pieces": a count with its noun.
[[nodiscard]] std::string count_text(long long count, const std::string& one, const std::string& many);

}  // namespace mendworth
