#include "quote/diagnosis.hpp"

#include <algorithm>

namespace mendworth {
namespace {

constexpr double guessed_most = 0.5;  // where nothing is known of those who walk away

}  // namespace

DiagnosisAnswer diagnosis_answer(const DiagnosisTerms& terms) {
  const Quantity share = terms.walk_away.value_or(Quantity::between(0.0, guessed_most));
  const auto income = [&](double w) { return w * (terms.fee - terms.cost) + (1.0 - w) * terms.job_margin; };
  DiagnosisAnswer answer{.fee = terms.fee, .credited = terms.credited, .cost = terms.cost};
  answer.walk_away_known = terms.walk_away.has_value();
  answer.walk_away_low = share.low();
  answer.walk_away = share.base();
  answer.walk_away_high = share.high();
  answer.income_per_intake = income(answer.walk_away);
  answer.income_low = income(answer.walk_away_low);
  answer.income_high = income(answer.walk_away_high);

  // A credited fee is paid by those who walk away alone; any other by all.
  const double w = answer.walk_away;
  const double job_without_fee = terms.job_margin - (terms.credited ? 0.0 : terms.fee);
  const double paying = terms.credited ? w : 1.0;
  if (paying > 0) {
    answer.break_even_fee = std::max(0.0, (w * terms.cost - (1.0 - w) * job_without_fee) / paying);
  } else if (terms.job_margin >= 0) {
    answer.break_even_fee = 0.0;
  }
  // job margin - w (job margin - fee + cost) = 0
  const double slope = terms.job_margin - terms.fee + terms.cost;
  if (slope != 0.0) {
    const double turning = terms.job_margin / slope;
    if (turning >= 0.0 && turning <= 1.0) answer.turning_share = turning;
  }
  return answer;
}

}  // namespace mendworth
