#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "answers/shared_shop.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/shared_order.hpp"
#include "support/case_builder.hpp"
#include "support/example_files.hpp"
#include "support/json_schema.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

const SharedOrderSettings quick{.futures = 400};

Case example(const std::string& name) { return read_case(example_text(name), name, built_in_rates()); }

std::vector<Case> theatre() {
  return {example("one-order/talkback-box.toml"), example("one-order/cue-light-desk.toml"),
          example("one-order/managers-lamp.toml")};
}

Case intercom(const std::string& file) {
  Case c = minimal_case();
  c.source_name = file;
  c.device.name = "intercom of " + file;
  return c;
}

SharedOrder answer_to(const std::vector<Case>& cases) { return shared_order(cases, built_in_rates(), quick); }

std::string message_of(const std::vector<Case>& cases) {
  try {
    (void)answer_to(cases);
  } catch (const InputError& error) {
    return error.problems().front().text();
  }
  return {};
}

Money paid_in(const SharedOrder& answer) {
  Money sum{};
  for (const SharedJob& job : answer.jobs) sum += job.share;
  return sum;
}

}  // namespace

TEST_CASE("a shared order of one case is what buy says of it") {
  for (const char* name : {"stage-metronome.toml", "one-order/talkback-box.toml", "label-printer.toml"}) {
    CAPTURE(name);
    const Case c = example(name);
    const Buying alone = buy(c, built_in_rates(), {.futures = quick.futures});
    const SharedOrder shared = answer_to({c});
    const SharedJob& job = shared.jobs.front();
    REQUIRE(job.alone);
    CHECK(job.alone->net == alone.baskets.front().net);
    CHECK(job.repaired == alone.repair_is_best);
    CHECK(job.repair == alone.plan);
    if (!job.repaired) continue;
    REQUIRE(shared.lines.size() == alone.baskets.front().lines.size());
    for (std::size_t i = 0; i < shared.lines.size(); ++i) {
      CHECK(shared.lines[i].line.candidate == alone.baskets.front().lines[i].candidate);
      CHECK(shared.lines[i].line.supplier == alone.baskets.front().lines[i].supplier);
      CHECK(shared.lines[i].line.quantity == alone.baskets.front().lines[i].quantity);
    }
    CHECK(near_rel(shared.net, alone.baskets.front().net, 1e-12));
    CHECK(near_abs(shared.together_saves.value_or(1), 0, 1e-9));
  }
}

TEST_CASE("a price break that two reach together makes both repairs worth it") {
  // With the pieces at 1.00 a repair is worth v before its order. One piece for v + 10 is never worth that; two cost
  // 2 x 1.00 + 4.00 shipping, 3.00 each.
  const double v = answer_to({intercom("a")}).jobs.front().value;
  REQUIRE(v > 3);
  std::vector<Case> cases{intercom("a"), intercom("b")};
  for (Case& c : cases) c.parts[0].candidates[0].offers[0].prices = ladder({{1, v + 10}, {2, 1.00}});
  // By itself, two pieces are the cheaper order, of which one is left over.
  for (Case& c : cases) c.parts[0].candidates[0].offers[0].least = 2;
  for (Case& c : cases) c.suppliers[0].shipping = tiers({{0, 2 * v}, {2, 4.00}});
  const SharedOrder both = answer_to(cases);
  CHECK(both.proved);
  REQUIRE(both.lines.size() == 1);
  CHECK(both.lines[0].line.quantity == 2);
  CHECK(both.lines[0].jobs.size() == 2);
  CHECK(near_abs(both.order.landed, 6.00, 1e-9));
  CHECK(both.jobs[0].share == Money{300});
  CHECK(both.jobs[1].share == Money{300});
  CHECK(paid_in(both) == Money{600});
}

TEST_CASE("jobs that a supplier refuses one by one are ordered together") {
  std::vector<Case> cases{intercom("a"), intercom("b"), intercom("c")};
  for (Case& c : cases) {
    c.suppliers[0].low_order_below = exactly(3.00);
    c.suppliers[0].refuses_low_orders = true;
    c.parts[0].candidates[0].offers[0].stock = 3;
  }
  // A single job could buy three pieces; with two in stock it could not.
  for (Case& c : cases) c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.00}});
  cases.pop_back();
  for (Case& c : cases) {
    c.suppliers[0].low_order_below = exactly(2.00);
    c.parts[0].candidates[0].offers[0].stock = 2;
    c.positions[0].count = c.positions[0].failed = 1;
  }
  const SharedOrder answer = answer_to(cases);
  CHECK(answer.jobs[0].repaired);
  CHECK(answer.jobs[1].repaired);
  // 2 x 1.00 + 4.00
  CHECK(near_abs(answer.order.landed, 6.00, 1e-9));
  CHECK(answer.jobs[0].share == Money{300});
}

TEST_CASE("a third job's share is by value, to the minor unit") {
  // Three pieces of 1.00 with 4.00 shipping: 7.00 over three is 2.33 and a third; the odd minor unit goes to one.
  const SharedOrder answer = answer_to({intercom("a"), intercom("b"), intercom("c")});
  REQUIRE(answer.lines.size() == 1);
  if (answer.lines[0].line.quantity == 3) {
    CHECK(paid_in(answer) == Money{700});
    CHECK(answer.jobs[0].share + answer.jobs[1].share + answer.jobs[2].share == Money{700});
    for (const SharedJob& job : answer.jobs) CHECK((job.share == Money{233} || job.share == Money{234}));
  }
  CHECK(paid_in(answer) == rounded(answer.order.landed, {"EUR", 2}));
}

TEST_CASE("the order of the cases changes nothing but that of the jobs") {
  std::vector<Case> cases = theatre();
  const SharedOrder one = answer_to(cases);
  std::reverse(cases.begin(), cases.end());
  const SharedOrder other = answer_to(cases);
  CHECK(one.net == other.net);
  REQUIRE(one.lines.size() == other.lines.size());
  for (std::size_t i = 0; i < one.lines.size(); ++i)
    CHECK(one.lines[i].line.quantity == other.lines[i].line.quantity);
  for (std::size_t j = 0; j < one.jobs.size(); ++j) {
    const SharedJob& a = one.jobs[j];
    const SharedJob& b = other.jobs[one.jobs.size() - 1 - j];
    CHECK(a.source_name == b.source_name);
    CHECK(a.repaired == b.repaired);
    CHECK(a.share == b.share);
    CHECK(a.adds == b.adds);
  }
}

TEST_CASE("a device that is not worth it changes nothing for the others") {
  std::vector<Case> cases{intercom("a"), intercom("b")};
  const SharedOrder without = answer_to(cases);
  Case hopeless = intercom("z");
  hopeless.replacements[0].price = exactly(1);
  cases.push_back(hopeless);
  const SharedOrder with = answer_to(cases);
  CHECK_FALSE(with.jobs[2].repaired);
  CHECK(with.jobs[2].share == Money{});
  CHECK(with.net == without.net);
  CHECK(with.jobs[0].share == without.jobs[0].share);
  CHECK(with.jobs[1].share == without.jobs[1].share);
  CHECK(near_rel(*with.together_saves, *without.together_saves, 1e-12));
}

TEST_CASE("each job waits for its own pieces") {
  Case slow = intercom("slow");
  slow.parts[0].name = "knob";
  slow.parts[0].candidates[0].name = "round knob";
  slow.suppliers[0] = supplier("Distant Parts", {{0, 1.00}});
  slow.suppliers[0].lead_days = exactly(20);
  Case fast = intercom("fast");
  for (Case* c : {&slow, &fast}) c->downtime.per_day = exactly(0.10);
  const SharedOrder answer = answer_to({slow, fast});
  REQUIRE(answer.jobs[0].repaired);
  REQUIRE(answer.jobs[1].repaired);
  CHECK(answer.jobs[0].wait_days == 20);
  CHECK(answer.jobs[1].wait_days == 2);
  CHECK(near_abs(answer.wait_cost, 2.20, 1e-9));  // 20 x 0.10 + 2 x 0.10
}

TEST_CASE("a device that is given up is stripped for what others need") {
  // A button as good as new whatever its age (shape 1) costs its way out: 20 minutes to open and 8 for the position, at
  // 30 an hour 10.00 + 4.00.
  std::vector<Case> cases{intercom("a"), intercom("b")};
  for (Case& c : cases) {
    c.positions[0].count = 3;
    c.parts[0].life.shape = c.parts[0].candidates[0].life.shape = exactly(1);
    c.parts[0].candidates[0].offers[0].prices = ladder({{1, 50.00}});
  }
  cases[0].replacements[0].price = exactly(400);
  cases[1].replacements[0].price = exactly(1);
  const SharedOrder answer = answer_to(cases);
  CHECK(answer.proved);
  CHECK(answer.jobs[0].repaired);
  CHECK_FALSE(answer.jobs[1].repaired);
  CHECK(answer.jobs[1].stripped);
  CHECK(answer.lines.empty());
  REQUIRE(answer.taken.size() == 1);
  CHECK(answer.taken[0].from == std::size_t{1});
  CHECK(answer.taken[0].pieces == 1);
  CHECK(near_abs(answer.taken[0].cost, 14.00, 1e-9));
  CHECK(near_abs(answer.jobs[0].taken_cost, 14.00, 1e-9));
  CHECK(answer.jobs[0].share == Money{});
  CHECK(near_abs(answer.net, 14.00, 1e-9));

  // One that wears is worth less the older it is, and a spill spares none.
  std::vector<Case> worn = cases;
  for (Case& c : worn) c.parts[0].life.shape = c.parts[0].candidates[0].life.shape = exactly(3);
  worn[1].device.age_years = exactly(12);
  const SharedOrder older = answer_to(worn);
  REQUIRE(older.taken.size() == 1);
  CHECK(older.taken[0].cost > 14.00);
  cases[1].fault.cause = Cause::spill;
  CHECK(answer_to(cases).taken.empty());
}

TEST_CASE("leftovers that several jobs share") {
  // Others take the first piece for 5 and the second for 1. Beside them one job would use a piece for 4, another pieces
  // for 3 and 2. One piece: 5 + 4; two: 6 + 4 + 3; three: 6 + 4 + 3 + 2.
  const SpareWorth::OfCandidate one{
      .if_used = {0, 9, 10}, .elsewhere = {0, 5, 6}, .used = {}, .small_order = 20};
  const SpareWorth::OfCandidate two{
      .if_used = {0, 8, 11}, .elsewhere = {0, 5, 6}, .used = {}, .small_order = 20};
  const WorthCurve worth = shared_worth({one, two});
  REQUIRE(worth.size() >= 4);
  CHECK(near_abs(worth[1], 9, 1e-12));
  CHECK(near_abs(worth[2], 13, 1e-12));
  CHECK(near_abs(worth[3], 15, 1e-12));
  CHECK(shared_worth({one}) == one.if_used);
}

TEST_CASE("what contradicts itself is said") {
  Case other = intercom("b");
  other.suppliers[0].shipping = tiers({{0, 5.00}});
  CHECK(message_of({intercom("a"), other}).find("'Cardinal Parts' is stated otherwise than in a") !=
        std::string::npos);
  Case dearer = intercom("b");
  dearer.parts[0].candidates[0].offers[0].prices = ladder({{1, 2.00}});
  CHECK(message_of({intercom("a"), dearer}).find("'tall button'") != std::string::npos);
  Case abroad = intercom("b");
  abroad.device.currency = "CHF";
  CHECK(message_of({intercom("a"), abroad}).find("one order needs one currency") != std::string::npos);
  CHECK_THROWS_AS((void)answer_to({}), std::invalid_argument);
}

TEST_CASE("the JSON of a shared order satisfies its schema; its page keeps to its width") {
  const auto schema = nlohmann::json::parse(shared_order_schema());
  mendworth::testing::SchemaValidator validator(schema);
  Case hopeless = intercom("z");
  hopeless.replacements[0].price = exactly(1);
  for (const std::vector<Case>& cases : {theatre(), std::vector<Case>{intercom("a"), hopeless}, {hopeless}}) {
    const SharedOrder answer = answer_to(cases);
    for (const auto& problem : validator.problems(nlohmann::json::parse(shared_order_json(answer))))
      FAIL_CHECK(problem);
    const std::string text = shared_order_page(answer, {.show = {"all"}});
    std::size_t from = 0;
    for (std::size_t at = text.find('\n'); at != std::string::npos; from = at + 1, at = text.find('\n', from))
      CHECK(at - from <= 80);
  }
}

// The odd cent of shipping falls to the same case, whichever is named first: the names of files decide, not those of
// devices.
TEST_CASE("which case is named first changes nobody's share") {
  Case first = intercom("a.toml"), second = intercom("b.toml");
  first.device.name = "the later name";
  second.device.name = "an early name";
  for (Case* c : {&first, &second}) c->suppliers[0].shipping = tiers({{0, 4.95}});
  const SharedOrder as_is = answer_to({first, second}), turned = answer_to({second, first});
  CHECK(as_is.jobs[0].share + as_is.jobs[1].share == Money{695});
  CHECK(as_is.jobs[0].share != as_is.jobs[1].share);
  CHECK(as_is.jobs[0].share == turned.jobs[1].share);
  CHECK(as_is.jobs[1].share == turned.jobs[0].share);
}

// More devices are given up than are looked at for their parts, so that nothing is proved; the order is as good as apart
// all the same, and how far it may be from the best is said.
TEST_CASE("of many devices some are looked at for their parts") {
  std::vector<Case> cases;
  for (int i = 0; i < 18; ++i) {
    Case c = intercom(std::to_string(100 + i));
    c.positions[0].count = 4;
    c.labour.visit_minutes = exactly(2);
    c.replacements[0].price = exactly(i < 3 ? 300 : 3);
    cases.push_back(std::move(c));
  }
  const SharedOrder answer = answer_to(cases);
  CHECK_FALSE(answer.proved);
  CHECK(std::isfinite(answer.gap));
  CHECK(answer.gap >= 0);
  REQUIRE(answer.together_saves.has_value());
  CHECK(*answer.together_saves >= 0);
  for (std::size_t j = 0; j < cases.size(); ++j) CHECK(answer.jobs[j].repaired == (j < 3));
  CHECK(paid_in(answer).minor == rounded(answer.order.charged_whole, {"EUR", 2}).minor);
}
