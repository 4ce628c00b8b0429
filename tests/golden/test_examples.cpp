#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "mendworth/buy.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "mendworth/weigh.hpp"

// Every example teaches one thing, and its comment says which. A change of the model or of the rates that
// turns an example round shows here. Recorded verdicts; the futures are few, so each example keeps clear of
// the thresholds.

namespace {

namespace fs = std::filesystem;
using namespace mendworth;

const fs::path examples = fs::path(MENDWORTH_SOURCE_DIR) / "examples";

struct Lesson {
  const char* file;
  VerdictKind kind;
  Confidence confidence;
};

const std::vector<Lesson> lessons = {
    {"fathers-radio.toml", VerdictKind::keep, Confidence::toss_up},
    {"field-recorder.toml", VerdictKind::repair, Confidence::clear},
    {"keypad-fleet.toml", VerdictKind::repair, Confidence::leaning},
    {"kitchen-scale.toml", VerdictKind::repair, Confidence::toss_up},
    {"label-printer.toml", VerdictKind::replace, Confidence::clear},
    {"lighting-desk.toml", VerdictKind::replace, Confidence::leaning},
    {"loop-receiver.toml", VerdictKind::price_unknown, Confidence::toss_up},
    {"stage-metronome.toml", VerdictKind::repair, Confidence::leaning},
    {"stock-scanner.toml", VerdictKind::repair, Confidence::leaning},
    {"synth-buttons.toml", VerdictKind::repair, Confidence::clear},
    {"wall-dimmer.toml", VerdictKind::refer, Confidence::leaning},
};

Weighing weigh_example(const std::string& file, const std::vector<std::string>& overrides = {},
                       bool what_ifs = false) {
  const std::string text = read_text_file((examples / file).string());
  WeighSettings settings;
  settings.seed = 5;
  settings.futures = 10'000;
  settings.what_ifs = what_ifs;
  return weigh(read_case(text, file, built_in_rates(), overrides), built_in_rates(), settings);
}

const BreakEven& turning(const Weighing& w, const std::string& label_start) {
  const auto found = std::find_if(w.break_evens.begin(), w.break_evens.end(),
                                  [&](const BreakEven& b) { return b.label.rfind(label_start, 0) == 0; });
  REQUIRE_MESSAGE(found != w.break_evens.end(), label_start);
  return *found;
}

const OptionResult& option_named(const Weighing& w, const std::string& name) {
  const auto found =
      std::find_if(w.options.begin(), w.options.end(), [&](const OptionResult& o) { return o.name == name; });
  REQUIRE_MESSAGE(found != w.options.end(), name);
  return *found;
}

}  // namespace

TEST_SUITE_BEGIN("examples");

TEST_CASE("every example has a lesson here, and every lesson its example") {
  std::vector<std::string> files, taught;
  for (const auto& entry : fs::directory_iterator(examples)) {
    const bool is_case = entry.path().extension() == ".toml" && entry.path().filename() != "shop.toml";
    if (is_case) files.push_back(entry.path().filename().string());
  }
  for (const auto& lesson : lessons) taught.emplace_back(lesson.file);
  std::sort(files.begin(), files.end());
  CHECK(files == taught);
}

TEST_CASE("the shop of the examples can be read") {
  const std::string text = read_text_file((examples / "shop.toml").string());
  const Shop shop = read_shop(text, "shop.toml", built_in_rates());
  const Case c = read_case(read_text_file((examples / "field-recorder.toml").string()), "field-recorder.toml",
                           rates_for(shop, built_in_rates()));
  CHECK(shop.currency == c.device.currency);
  // The case is weighed at what the shop charges.
  CHECK(shop.charge_rate == c.labour.rate_per_hour.base());
}

TEST_CASE("the verdicts of the examples") {
  for (const auto& lesson : lessons) {
    CAPTURE(lesson.file);
    const auto w = weigh_example(lesson.file);
    CAPTURE(w.verdict.repair_cheaper_share);
    CHECK(w.verdict.kind == lesson.kind);
    if (w.verdict.saving) CHECK(w.verdict.confidence == lesson.confidence);
  }
}

TEST_CASE("what a weighing and a purchase say of one order is the same") {
  for (const Lesson& lesson : lessons) {
    CAPTURE(lesson.file);
    const Case c =
        read_case(read_text_file((examples / lesson.file).string()), lesson.file, built_in_rates(), {});
    WeighSettings settings{.futures = 256};
    settings.what_ifs = false;
    const Weighing w = weigh(c, built_in_rates(), settings);
    const Buying b = buy(c, built_in_rates(), {.futures = 256});
    if (!w.order || b.baskets.empty()) {
      CHECK(b.baskets.empty());
      continue;
    }
    REQUIRE(b.order.lines.size() == w.order->lines.size());
    for (std::size_t i = 0; i < b.order.lines.size(); ++i) {
      CHECK(b.order.lines[i].candidate == w.order->lines[i].candidate);
      CHECK(b.order.lines[i].quantity == w.order->lines[i].quantity);
    }
    CHECK(b.order.leftovers == w.order->leftovers);
    CHECK(b.order.leftover_value == w.order->leftover_value);
    CHECK(b.order.charged_by_reuse == w.order->charged_by_reuse);
  }
}

TEST_CASE("synthesiser: by a wide margin, from a shop at home, with a piece in the drawer") {
  const auto w = weigh_example("synth-buttons.toml");
  CHECK(w.verdict.repair_cheaper_share > 0.81);
  CHECK(*w.verdict.saving > 500);
  REQUIRE(w.order);
  for (const auto& line : w.order->lines) CHECK(line.supplier == "Old Dock Parts");
  CHECK(w.order->leftovers > 0);
  // The risk of more joints keeps the mates out; a practised hand brings them within reach.
  const auto gap = [](const Weighing& weighed) {
    return option_named(weighed, "failed and mates").present_cost -
           option_named(weighed, *weighed.verdict.best_repair).present_cost;
  };
  CHECK(gap(w) > 60);
  CHECK(gap(weigh_example("synth-buttons.toml", {"labour.skill=professional"})) < 30);
}

TEST_CASE("label printer: time decides, with time at no cost the answer turns") {
  const auto w = weigh_example("label-printer.toml");
  const auto& repair = option_named(w, *w.verdict.best_repair);
  CHECK(repair.parts.labour > 0.8 * repair.cost_now);
  CHECK(weigh_example("label-printer.toml", {"labour.rate_per_hour=0"}).verdict.kind == VerdictKind::repair);
}

TEST_CASE("lighting desk: the wait decides, bought quickly the repair wins") {
  const auto w = weigh_example("lighting-desk.toml", {}, true);
  const auto& repair = option_named(w, *w.verdict.best_repair);
  CHECK(repair.parts.downtime > *w.verdict.saving * -1);
  CHECK(repair.parts.downtime > 5 * (repair.parts.parts + repair.parts.shipping));
  const auto& lead = turning(w, "lead time");
  REQUIRE(lead.values.size() == 1);
  CHECK(lead.values.front() < lead.current);
  CHECK(weigh_example("lighting-desk.toml", {"supplier.lead_days=4"}).verdict.kind == VerdictKind::repair);
}

TEST_CASE("kitchen scale: either is fine, and the money already spent changes nothing") {
  const auto w = weigh_example("kitchen-scale.toml");
  CHECK(w.verdict.saving_p10 < 0);
  CHECK(w.verdict.saving_p90 > 0);
  CHECK(w.already_spent == 4);
  CHECK(*weigh_example("kitchen-scale.toml", {"device.already_spent=400"}).verdict.saving ==
        *w.verdict.saving);
}

TEST_CASE(
    "wall dimmer: no option for one's own hands, and a price at which the licensed repair is the better "
    "one") {
  const auto w = weigh_example("wall-dimmer.toml");
  for (const auto& option : w.options) CHECK(option.kind != OptionKind::repair);
  CHECK_FALSE(w.order);
  REQUIRE_FALSE(w.cautions.empty());
  CHECK(w.cautions.front().licensed_only);
  CHECK(*w.verdict.saving < 0);
  CHECK(*weigh_example("wall-dimmer.toml", {"licensed_repair.price=60"}).verdict.saving > 0);
}

TEST_CASE("loop receiver: what it must be worth, and a verdict as soon as there is a price") {
  const auto w = weigh_example("loop-receiver.toml");
  REQUIRE(w.unpriced);
  REQUIRE(w.unpriced->repair_pays_from);
  CHECK_FALSE(w.unpriced->rows.empty());
  const double from = *w.unpriced->repair_pays_from;
  const auto at = [](double price) {
    return weigh_example("loop-receiver.toml", {"replacement.price=" + std::to_string(price)}).verdict.kind;
  };
  CHECK(at(0.8 * from) == VerdictKind::replace);
  CHECK(at(1.25 * from) == VerdictKind::repair);
}

TEST_CASE("father's radio: a practised hand is worth more than the part") {
  const auto own = weigh_example("fathers-radio.toml");
  const auto practised = weigh_example("fathers-radio.toml", {"labour.skill=professional"});
  const auto& a = option_named(own, *own.verdict.best_repair);
  const auto& b = option_named(practised, *practised.verdict.best_repair);
  CHECK(a.write_off_chance > 5 * b.write_off_chance);
  CHECK(b.cure_chance > a.cure_chance);
  for (const auto& option : own.options) CHECK(option.kind != OptionKind::replacement);
}

TEST_SUITE_END();
