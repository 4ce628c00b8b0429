// Questions that a repairer asks, one test each: the answer must be there, and it must be the right one.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/weigh.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

namespace {

// A hand-held score keeper of a sports hall: two buttons of the same part, one used 0.6 as much as the other.
constexpr const char* score_keeper = R"(
[device]
name = "score keeper"
currency = "EUR"
age_years = 4
use_per_day = 200
hazards = ["hot-work"]
resale = 0

[fault]
cause = "wear"

[[position]]
name = "home button"
part = "side button"
failed = 1
minutes = { low = 7, likely = 9, high = 21 }
joints = 4

[[position]]
name = "guest button"
part = "side button"
share = 0.6
minutes = { low = 7, likely = 9, high = 21 }
joints = 4

[[part]]
name = "side button"
life_unit = "cycles"
rated_life = 200000
life_spread = 2
shape = 2
[[part.candidate]]
name = "side button, tall"
fit = 0.97
dead_on_arrival = 0.005
[[part.candidate.offer]]
supplier = "Parts at home"
prices = [{ from = 1, each = 0.62 }, { from = 10, each = 0.51 }, { from = 25, each = 0.44 }]

[[supplier]]
name = "Parts at home"
shipping = 4.90
tax = 0.20
lead_days = 2

[labour]
rate_per_hour = 10
case_minutes = { low = 5, likely = 8, high = 15 }
visit_minutes = { low = 19, likely = 29, high = 55 }

[risk]
opening_mendable = 0
opening_write_off = 0.01
joint_mendable = 0.0105
joint_write_off = 0.0045
diagnosis_right = 0.95
misfit_found = "dry"
dead_found_after_closing = 0.1

[[replacement]]
name = "new score keeper"
price = 64.90
life_years = 5
setup_minutes = 0
delivery_days = 2

[rest]
remaining_years = 3

[downtime]
per_day = 0

[horizon]
years = 5
discount_rate = 0.03
)";

Weighing ask(const std::vector<std::string>& overrides = {}, int futures = 20'000,
             std::optional<Date> today = std::nullopt, bool what_ifs = false) {
  const Case c = read_case(score_keeper, "score_keeper.toml", built_in_rates(), overrides);
  return weigh(c, built_in_rates(),
               {.seed = 11, .futures = futures, .threads = 2, .today = today, .what_ifs = what_ifs});
}

/// With break-evens and sensitivity.
Weighing ask_what_if(const std::vector<std::string>& overrides = {}) {
  return ask(overrides, 20'000, std::nullopt, true);
}

const BreakEven& turning(const Weighing& w, const std::string& key) {
  const auto found = std::find_if(w.break_evens.begin(), w.break_evens.end(),
                                  [&](const BreakEven& b) { return b.key == key; });
  REQUIRE(found != w.break_evens.end());
  return *found;
}

const OptionResult& cheapest(const Weighing& w, const std::string& family) {
  const auto found = std::find_if(w.options.begin(), w.options.end(),
                                  [&](const OptionResult& o) { return o.family == family; });
  REQUIRE(found != w.options.end());
  return *found;
}

bool says(const std::string& text, const std::string& words) {
  std::string flat;
  for (const char ch : text) {
    const char plain = ch == '\n' ? ' ' : ch;
    if (plain != ' ' || flat.empty() || flat.back() != ' ') flat += plain;
  }
  return flat.find(words) != std::string::npos;
}

}  // namespace

TEST_SUITE_BEGIN("questions");

TEST_CASE("1: worth fixing for one dead button, and the own-time rate at which that flips") {
  const auto w = ask_what_if();
  CHECK(w.verdict.kind == VerdictKind::repair);
  CHECK(*w.verdict.saving > 0);
  REQUIRE(w.own_time);
  REQUIRE(w.own_time->turning_rate);
  // At the rate named, the saving is gone; just below it is still there.
  const auto at = [](double rate) {
    return *ask({"labour.rate_per_hour=" + std::to_string(rate)}).verdict.saving;
  };
  const double at_turn = at(*w.own_time->turning_rate);
  CAPTURE(at_turn);
  CAPTURE(w.verdict.saving_error);
  CHECK(near_abs(at_turn, 0.0, 2 * w.verdict.saving_error));
  CHECK(at(*w.own_time->turning_rate - 2) > 0);
}

TEST_CASE("2: renew the other button too? break-even chance against estimated chance, and keeping a spare") {
  const auto w = ask();
  REQUIRE(w.survivors.size() == 1);
  const auto& mate = w.survivors.front();
  CHECK(mate.position == "guest button");
  REQUIRE(mate.renewal);
  // The failure of its mate makes its own likelier; the chance within a year is part of that in five.
  CHECK(mate.chance > 0);
  CHECK(mate.chance_one_year < mate.chance);
  // By hand: now 0.744 for the piece, 10.67 min at 10, four joints' risk; later 20 % on 0.62 + 4.90 and the opening.
  const double mend = 1 - std::pow(1 - 0.0105, 4), lost = 1 - std::pow(1 - 0.0045, 4);
  const double minutes = (7 + 4 * 9 + 21) / 6.0, opening = (19 + 4 * 29 + 55) / 6.0;
  const double mend_money = mate.renewal->now_cost - 0.62 * 1.2 - minutes / 6 - lost * 64.90;
  CHECK(mend_money >= 0);
  CHECK(mend_money <= mend * 60.0 / 6);  // at most an hour of mending
  // The best plan keeps spares, so an opening later takes one of them, at the price of a piece, and orders nothing.
  REQUIRE(w.order);
  REQUIRE(w.order->leftovers > 0);
  CHECK(mate.renewal->later_uses_spare);
  const double by_hand = 0.62 * 1.2 + (opening + minutes) / 6;
  CHECK(mate.renewal->later_cost > by_hand);
  // The risk of a later opening comes on top: here the opening's and the joints' write-off, and mending.
  const double lost_later = 1 - std::pow(1 - 0.0045, 4) * 0.99;
  CHECK(mate.renewal->later_cost <= by_hand + mend * 60.0 / 6 + lost_later * 64.90 + 1e-9);
  // From a supplier that sells single pieces at a price that keeps nobody stocking, a later opening orders anew.
  const auto dear = ask({"part.1.candidate.1.offer.1.prices=[{ from = 1, each = 9 }]"});
  REQUIRE(dear.order);
  CHECK(dear.order->leftovers == 0);
  REQUIRE(dear.survivors.size() == 1);
  CHECK_FALSE(dear.survivors.front().renewal->later_uses_spare);
  CHECK(dear.survivors.front().renewal->later_cost > 1.2 * 13.90 + (opening + minutes) / 6);
  CHECK(near_abs(mate.renewal->break_even_chance, mate.renewal->now_cost / mate.renewal->later_cost, 1e-12));
  CHECK(cheapest(w, "failed and mates").renewed_now == 2);
}

TEST_CASE("5: a pack of ten for one piece, charged in three ways") {
  const auto w = ask({"part.1.candidate.1.offer.1.multiple=10", "part.1.candidate.1.offer.1.least=10",
                      "part.1.other_uses_per_year=0.5"});
  REQUIRE(w.order);
  // By hand: 10 * 0.51 + 4.90 = 10.00, with 20 % tax 12.00.
  CHECK(near_abs(w.order->landed, 12.00, 1e-9));
  CHECK(near_abs(w.order->charged_whole, 12.00, 1e-9));
  const int used = w.order->lines.front().needed;
  CHECK(near_abs(w.order->charged_pro_rata, 12.00 * used / 10, 1e-9));
  CHECK(w.order->leftovers == 10 - used);
  CHECK(w.order->leftover_value > 0);
  CHECK(near_abs(w.order->charged_by_reuse, 12.00 - w.order->leftover_value, 1e-9));
}

TEST_CASE("6: part A and B might both fit, order both? the chance of misfit from which that pays") {
  // A part of 3.45, postage of 6.90, a wait of two days at 2.50: from 3.45/(3.45 + 6.90 + 5.00) = 22.5 % on.
  const auto with_misfit = [](double misfit) {
    Case c = read_case(score_keeper, "score_keeper.toml", built_in_rates(),
                       {"labour.rate_per_hour=0", "downtime.per_day=2.5", "supplier.1.tax=0",
                        "supplier.1.shipping=6.90", "part.1.candidate.1.dead_on_arrival=0",
                        "part.1.rated_life=1e12", "part.1.life_spread=1", "part.1.shape_spread=1"});
    c.positions.pop_back();  // the guest button; new ones last for ever, so no spare is worth keeping
    auto& candidates = c.parts[0].candidates;
    candidates[0].offers[0].prices = {{.from = 1, .each = Quantity::exactly(3.45)}};
    candidates[0].fit = Quantity::exactly(1 - misfit);
    candidates.push_back(candidates[0]);
    candidates[1].name = "side button, flat";
    return weigh(c, built_in_rates(), {.seed = 11, .futures = 8000, .threads = 2, .what_ifs = false});
  };
  const auto rarely = with_misfit(0.15);
  REQUIRE(rarely.order);
  CHECK(!rarely.order->hedge);
  CHECK(rarely.order->lines.size() == 1);
  const auto often = with_misfit(0.35);
  REQUIRE(often.order);
  REQUIRE(often.order->hedge);
  CHECK(often.order->lines.size() == 2);
  CHECK(near_abs(often.order->hedge->cost, 3.45, 1e-9));
  CHECK(near_abs(often.order->hedge->worth, 0.35 * 15.35, 0.5));
  CHECK(says(weighing_page(often, {.show = {"all"}}), "is there for the case that side button"));
  CHECK(says(weighing_page(often, {.show = {"all"}}), "Chance of that: 35"));
}

TEST_CASE("15: in guarantee until March: claim first") {
  const std::vector<std::string> guarantee = {"device.guarantee_until=2027-03-31",
                                              "device.guarantee_chance=0.8", "device.guarantee_days=10",
                                              "downtime.per_day=1"};
  const auto live = ask(guarantee, 20'000, Date{2027, 1, 15});
  REQUIRE(live.guarantee);
  CHECK(live.guarantee->live);
  // By hand: a claim costs ten days and, one time in five, what the best course costs anyway.
  const double best = live.options.front().present_cost;
  CHECK(near_abs(live.guarantee->claim_cost, 10 + 0.2 * best, 1e-9));
  CHECK(near_abs(live.guarantee->claim_worth, best - live.guarantee->claim_cost, 1e-9));
  CHECK(says(weighing_page(live, {.show = {"all"}}), "Claim first"));
  const auto over = ask(guarantee, 20'000, Date{2027, 4, 1});
  CHECK_FALSE(over.guarantee->live);
  CHECK_FALSE(says(weighing_page(over, {.show = {"all"}}), "Claim first"));
}

TEST_CASE("16: discontinued: the most worth spending for what a working one is worth") {
  const auto w = ask({"replacement.1.price=unknown"});
  CHECK(w.verdict.kind == VerdictKind::price_unknown);
  CHECK_FALSE(w.verdict.saving);
  REQUIRE(w.unpriced);
  REQUIRE(w.unpriced->repair_pays_from);
  // With that price stated the saving is about zero: the same futures, but purchases screened anew.
  const auto priced = ask({"replacement.1.price=" + std::to_string(*w.unpriced->repair_pays_from)});
  CHECK(near_abs(*priced.verdict.saving, 0.0, 0.3));
  REQUIRE(w.unpriced->rows.size() >= 4);
  for (std::size_t i = 1; i < w.unpriced->rows.size(); ++i) {
    CHECK(w.unpriced->rows[i].willing_to_pay > w.unpriced->rows[i - 1].willing_to_pay);
    CHECK(w.unpriced->rows[i].most_worth_spending_now >= w.unpriced->rows[i - 1].most_worth_spending_now);
  }
}

TEST_CASE("17: it must be kept: cost, chance and risk of the repair only") {
  const auto w = ask({"device.must_keep=true", "fault.burden_per_year=5"});
  CHECK(w.verdict.kind == VerdictKind::keep);
  CHECK_FALSE(w.verdict.best_replacement);
  bool leave = false;
  for (const auto& option : w.options) {
    CHECK(option.kind != OptionKind::replacement);
    leave = leave || option.kind == OptionKind::leave;
    if (option.kind != OptionKind::repair) continue;
    CHECK(option.cure_chance > 0.8);
    CHECK(option.write_off_chance > 0);
  }
  CHECK(leave);
  // A keepsake is lost with the device: it makes replacing dearer by just that now.
  const auto plain = ask();
  const auto dear = ask({"device.keepsake=100"});
  CHECK(near_abs(cheapest(dear, "new score keeper").present_cost,
                 cheapest(plain, "new score keeper").present_cost + 100, 1e-6));
}

TEST_CASE("20: age not known: a band, and whether the verdict turns inside it") {
  const auto w = ask_what_if({"device.age_years={ low = 2, high = 6 }"});
  const auto row = std::find_if(w.sensitivity.begin(), w.sensitivity.end(),
                                [](const SensitivityRow& r) { return r.key == "device.age_years"; });
  REQUIRE(row != w.sensitivity.end());
  CHECK(row->uncertain);
  CHECK(row->low == 2);
  CHECK(row->high == 6);
  CHECK(says(weighing_page(w, {.show = {"all"}}), "age is not known exactly"));
}

TEST_CASE("21: own time costs nothing: cash only and with time side by side") {
  const auto free_time = ask_what_if({"labour.rate_per_hour=0"});
  REQUIRE(free_time.own_time);
  CHECK(free_time.own_time->rate == 0);
  CHECK(near_abs(free_time.own_time->saving_cash_only, free_time.own_time->saving_with_time, 1e-9));
  REQUIRE(free_time.own_time->turning_rate);
  const auto paid = ask_what_if();
  CHECK(near_abs(paid.own_time->saving_cash_only, *free_time.verdict.saving, 0.3));
  CHECK(paid.own_time->saving_with_time < paid.own_time->saving_cash_only);
}

TEST_CASE("22: the device earns money: waiting for parts against a replacement tomorrow") {
  const auto idle = ask();
  const auto earning =
      ask_what_if({"downtime.per_day=4", "supplier.1.lead_days=20", "replacement.1.delivery_days=1"});
  CHECK(*earning.verdict.saving < *idle.verdict.saving - 60);
  CHECK(earning.verdict.kind == VerdictKind::replace);
  const auto& lead = turning(earning, "supplier.1.lead_days");
  REQUIRE_FALSE(lead.values.empty());
  CHECK(near_abs(lead.current, 20, 1e-9));
  const auto at = ask({"downtime.per_day=4", "replacement.1.delivery_days=1",
                       "supplier.1.lead_days=" + std::to_string(lead.values.front())});
  CHECK(near_abs(*at.verdict.saving, 0.0, 1.0));
}

TEST_CASE("26: which input matters most: ranked, with flip points") {
  const auto w = ask_what_if();
  REQUIRE(w.sensitivity.size() > 5);
  for (std::size_t i = 1; i < w.sensitivity.size(); ++i)
    CHECK(w.sensitivity[i].swing <= w.sensitivity[i - 1].swing);
  CHECK_FALSE(turning(w, "replacement.1.price").values.empty());
}

TEST_CASE("28: a beginner: chance of damage, its cost, chance of a write-off") {
  const std::vector<std::string> skilled = {"risk.opening_mendable=0.005", "risk.opening_write_off=0.001",
                                            "risk.joint_mendable=0.0005", "risk.joint_write_off=0.0001"};
  const std::vector<std::string> beginner = {"risk.opening_mendable=0.08", "risk.opening_write_off=0.03",
                                             "risk.joint_mendable=0.025", "risk.joint_write_off=0.007"};
  const auto practised = ask(skilled);
  const auto w = ask(beginner);
  const auto& careful = cheapest(practised, "failed only");
  const auto& rough = cheapest(w, "failed only");
  // By hand, four joints and one opening: the chances combine as 1 - product of (1 - p).
  const double lost = 1 - 0.97 * std::pow(0.993, 4);
  CHECK(near_abs(rough.write_off_chance, lost, 0.008));
  CHECK(rough.damage_chance > careful.damage_chance + 0.1);
  CHECK(rough.parts.risk > careful.parts.risk + 2);
  CHECK(says(weighing_page(w, {.show = {"all"}}), "device lost"));
}

TEST_CASE("29: refurbished at 60 %, or new, or repair: cost per year side by side") {
  std::string text = score_keeper;
  text += R"(
[[replacement]]
name = "refurbished score keeper"
price = 38.94
life_years = 3
setup_minutes = 0
delivery_days = 2
)";
  const auto w = weigh(read_case(text, "two.toml", built_in_rates()), built_in_rates(),
                       {.seed = 11, .futures = 20'000, .threads = 2, .what_ifs = false});
  const auto& fresh = cheapest(w, "new score keeper");
  const auto& used = cheapest(w, "refurbished score keeper");
  const auto& repair = w.options.front();
  for (const auto* o : {&fresh, &used, &repair}) {
    // Published formula: capital recovery r/(1 - (1+r)^-n), any engineering economics text.
    CHECK(near_abs(o->cost_per_year, o->present_cost * 0.03 / (1 - std::pow(1.03, -5)), 1e-9));
  }
}

TEST_CASE("not for one's own hands: the price of a licensed repair against a new one, without any shopping") {
  const std::string asks = R"(
[device]
name = "gas heater"
currency = "EUR"
age_years = 6
use_per_day = 5
hazards = ["gas"]
[[position]]
name = "ignition button"
part = "ignition button"
failed = 1
[[part]]
name = "ignition button"
class = "tactile-switch"
[licensed_repair]
price = 90
[[replacement]]
name = "new gas heater"
price = 420
life_years = 12
)";
  const auto answer = [&](const std::vector<std::string>& overrides) {
    return weigh(read_case(asks, "heater.toml", built_in_rates(), overrides), built_in_rates(),
                 {.seed = 11, .futures = 20'000, .threads = 2});
  };
  const auto w = answer({});
  CHECK(w.verdict.kind == VerdictKind::refer);
  CHECK(*w.verdict.saving > 0);
  CHECK_FALSE(w.order);
  const auto& price = turning(w, "licensed_repair.price");
  REQUIRE(price.values.size() == 1);
  const auto dearer = answer({"licensed_repair.price=" + std::to_string(price.values.front())});
  CHECK(near_abs(*dearer.verdict.saving, 0.0, 1.0));
  CHECK(says(weighing_page(w, {.show = {"all"}}), "0: own time is not counted"));
  // An offer in the case changes nothing: the licensed person brings the part along.
  std::string shopping = asks;
  const std::string life = "class = \"tactile-switch\"\n";
  shopping.insert(shopping.find(life) + life.size(),
                  "fit = 0.2\n[[part.offer]]\nprice = 55\n[[supplier]]\nname = \"by post\"\nshipping = 9\n");
  const auto shopped = weigh(read_case(shopping, "heater.toml", built_in_rates()), built_in_rates(),
                             {.seed = 11, .futures = 20'000, .threads = 2, .what_ifs = false});
  CHECK(near_abs(*shopped.verdict.saving, *w.verdict.saving, 5 * w.verdict.saving_error));
  // Without a licensed price there is still a referral, and the replacement.
  std::string bare = asks;
  const std::string licensed = "[licensed_repair]\nprice = 90\n";
  bare.erase(bare.find(licensed), licensed.size());
  const auto unknown = weigh(read_case(bare, "heater.toml", built_in_rates()), built_in_rates(),
                             {.seed = 11, .futures = 2'000, .threads = 1});
  CHECK(unknown.verdict.kind == VerdictKind::refer);
  CHECK_FALSE(unknown.verdict.saving);
  CHECK(says(weighing_page(unknown, {.show = {"all"}}), "Ask for the price of a licensed repair"));
}

TEST_CASE("34: programming and labelling the new one takes hours: does that flip it?") {
  const auto plain = ask({"labour.rate_per_hour=26"});
  const auto setup = ask_what_if({"labour.rate_per_hour=26", "replacement.1.setup_minutes=180"});
  CHECK(plain.verdict.kind == VerdictKind::replace);
  CHECK(setup.verdict.kind == VerdictKind::repair);
  const auto& turn = turning(setup, "replacement.1.setup_minutes");
  REQUIRE_FALSE(turn.values.empty());
  CHECK(turn.values.front() > 0);
  CHECK(turn.values.front() < 180);
}

TEST_CASE("35: money already spent is shown and never counted") {
  const auto w = ask({"device.already_spent=30"});
  CHECK(w.already_spent == 30);
  CHECK(*w.verdict.saving == *ask().verdict.saving);
  CHECK(says(weighing_page(w, {.show = {"all"}}), "30.00"));
}

TEST_CASE("it failed long before its time: was that wear, and what if it was not?") {
  // By hand, with life and shape known: 200,000 operations to 10 %, shape 2; worn by 4 * 365.25 * 200 and 0.6 of it.
  const auto known = ask({"part.1.life_spread=1", "part.1.shape_spread=1"}, 1000);
  const double worn = 4 * 365.25 * 200 / 200'000;
  REQUIRE(known.evidence.size() == 1);
  REQUIRE(known.evidence.front().early_chance);
  CHECK(near_abs(*known.evidence.front().early_chance, 1 - std::pow(0.9, worn * worn * (1 + 0.36)), 1e-12));
  CHECK_FALSE(known.evidence.front().wear_hardly_explains());
  CHECK_FALSE(known.another_cause);
  REQUIRE(known.mate_survival.size() == 1);
  for (const MateSurvival::Point& point : known.mate_survival.front().points) {
    const double later = worn * (1 + point.years / 4);
    CHECK(near_abs(point.before, std::pow(0.9, 0.36 * (later * later - worn * worn)), 1e-12));
    CHECK(near_abs(point.after, point.before, 1e-12));  // where the law is known there is nothing to learn
  }

  // What was spilt takes more of them: 0.4 of the pieces at a mean of 2 years.
  const auto spilt = ask({"part.1.life_spread=1", "part.1.shape_spread=1", "fault.cause=\"spill\"",
                          "fault.common_cause_chance=0.4", "fault.common_cause_years=2"},
                         1000);
  REQUIRE(spilt.mate_survival.size() == 1);
  for (const MateSurvival::Point& point : spilt.mate_survival.front().points) {
    const double later = worn * (1 + point.years / 4);
    const double by_wear = std::pow(0.9, 0.36 * (later * later - worn * worn));
    CHECK(near_abs(point.before, by_wear * (1 - 0.4 * (1 - std::exp(-point.years / 2))), 1e-12));
  }

  // The mean over a range lies between its ends.
  const auto range =
      ask({"part.1.life_spread=1", "part.1.shape_spread=1", "device.age_years={ low = 2, high = 6 }"}, 1000);
  CHECK(*range.evidence.front().early_chance > 1 - std::pow(0.9, worn * worn / 4 * 1.36));
  CHECK(*range.evidence.front().early_chance < 1 - std::pow(0.9, worn * worn * 2.25 * 1.36));

  const std::vector<std::string> early = {"device.use_per_day=0.5"};
  const auto w = ask(early, 1000);
  REQUIRE(w.evidence.front().early_chance);
  CHECK(w.evidence.front().wear_hardly_explains());
  CHECK(says(weighing_page(w, {.show = {"all"}}), "Wear hardly explains what has failed"));
  REQUIRE(w.another_cause);
  CHECK(w.another_cause->futures == 1000);
  const auto otherwise = ask({early.front(), "fault.cause=\"bad-joint\""}, 1000);
  CHECK(near_abs(*w.another_cause->verdict.saving, *otherwise.verdict.saving, 1e-9));
  CHECK(w.another_cause->verdict.kind == otherwise.verdict.kind);
  CHECK_FALSE(otherwise.evidence.front().early_chance);
  CHECK_FALSE(otherwise.another_cause);

  // The same without a price of a working one: the repair is that which is best at the price from which one pays.
  const std::vector<std::string> unpriced = {"replacement.1.price=unknown", "device.use_per_day=150",
                                             "device.age_years=0.5",        "horizon.years=20",
                                             "rest.remaining_years=60",     "labour.rate_per_hour=40"};
  const auto open = ask(unpriced, 1000);
  REQUIRE(open.another_cause);
  REQUIRE(open.another_cause->repair_pays_from);
  auto by_joint = unpriced;
  by_joint.push_back("fault.cause=\"bad-joint\"");
  const auto open_otherwise = ask(by_joint, 1000);
  REQUIRE(open_otherwise.unpriced);
  CHECK(near_abs(*open.another_cause->repair_pays_from, *open_otherwise.unpriced->repair_pays_from, 1e-9));
  CHECK(open.another_cause->verdict.best_repair == open_otherwise.verdict.best_repair);
}

// Derived: what can be done with so many pieces at hand can be done with one more, which is left in the drawer.
TEST_CASE("one piece more in the drawer never makes the best repair dearer") {
  Case c = read_case(score_keeper, "score_keeper.toml", built_in_rates(),
                     {"part.1.rated_life=120000", "position.1.count=2", "position.2.count=4",
                      "horizon.years=3", "replacement.1.price=300", "device.age_years=2"});
  std::optional<double> with_fewer;
  for (int pieces = 0; pieces <= 4; ++pieces) {
    CAPTURE(pieces);
    c.parts[0].candidates[0].on_hand = pieces;
    const Weighing w = weigh(c, built_in_rates(), {.futures = 4000, .threads = 2, .what_ifs = false});
    REQUIRE(w.verdict.kind == VerdictKind::repair);
    if (with_fewer) CHECK(w.options.front().present_cost < *with_fewer + 0.01);
    with_fewer = w.options.front().present_cost;
  }
}

TEST_CASE("one piece more is priced as it lands, with the card's exchange fee") {
  const auto at = [](const std::string& fee) {
    return ask({"supplier.1.exchange_fee=" + fee}, 500).survivors.front().renewal->now_cost;
  };
  CHECK(near_abs(at("0.03") - at("0"), 0.03 * 0.62 * 1.2, 1e-9));
}

TEST_CASE("bought used: what it survived before says nothing, and the page says so") {
  const auto own = ask();
  const auto used = ask({"device.bought_used_years_ago=1"});
  REQUIRE_FALSE(own.evidence.empty());
  REQUIRE(used.evidence.size() == own.evidence.size());
  // The same failure in less service under watch: a shorter life.
  CHECK(used.evidence.front().posterior_median < own.evidence.front().posterior_median);
  CHECK(used.evidence.front().prior_median == own.evidence.front().prior_median);
  CHECK(says(weighing_page(used, {.show = {"all"}}), "It was bought used"));
}

TEST_SUITE_END();
