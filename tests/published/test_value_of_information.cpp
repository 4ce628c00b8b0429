// The value of information against worked examples and closed forms.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "numeric/distributions.hpp"
#include "numeric/random.hpp"
#include "numeric/value_of_information.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;

TEST_SUITE_BEGIN("published: value of information");

namespace {

constexpr std::size_t samples = 16384;

/// Independent standard normal deviates of a sample.
double normal(std::uint64_t sample, std::uint64_t which, std::uint64_t seed = 3) {
  return normal_quantile(RandomBlocks(seed)(Stream::inputs, sample, which)[0]);
}

/// The value of deciding between two options when the advantage of one is normal with mean m and deviation s: s phi(m/s)
/// - |m| Phi(-|m|/s), the unit normal loss integral.
double normal_loss(double m, double s) {
  const double z = std::abs(m) / s;
  return s * std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi) -
         std::abs(m) * 0.5 * std::erfc(z / std::numbers::sqrt2);
}

/// `resolution`: what may hide within a block.
void check(const Estimate& found, double exact, double most_error, double resolution = 1e-9) {
  CAPTURE(found.value);
  CAPTURE(found.error);
  CAPTURE(exact);
  CHECK(found.value >= 0);
  CHECK(found.error <= most_error);
  CHECK(near_abs(found.value, exact, 4 * found.error + resolution));
}

/// Nothing for sure, and the advantage mean + slope x + rest z for a normal x and luck z.
struct Study {
  std::vector<double> x;
  std::vector<std::vector<double>> net_benefit;
  Study(double mean, double slope, double rest, std::uint64_t seed = 3) {
    net_benefit.resize(2);
    for (std::size_t s = 0; s < samples; ++s) {
      x.push_back(normal(s, 0, seed));
      net_benefit[0].push_back(0.0);
      net_benefit[1].push_back(mean + slope * x.back() + rest * normal(s, 1, seed));
    }
  }
};

}  // namespace

// Worked examples with few states, each as often in the sample as its chance says.
TEST_CASE("perfect information about everything: printed examples") {
  struct Example {
    std::vector<int> times;  // of each state
    std::vector<std::vector<double>> payoff;
    double printed;
  };
  const std::array examples = {
      // Three acts, three states of chances 0.2, 0.4, 0.4: printed 2.8.
      Example{{2, 4, 4}, {{10, 8, 6}, {14, 15, 2}, {7, 8, 9}}, 2.8},
      // Stock of 0 to 3 against a demand of 0 to 3: printed 1.10.
      Example{{2, 3, 3, 2}, {{0, 0, 0, 0}, {-1, 2, 2, 2}, {-2, 1, 4, 4}, {-3, 0, 3, 6}}, 1.10},
      // Three investments, a market that rises, stays or falls: 350.
      Example{{5, 3, 2}, {{1500, 300, -800}, {900, 600, -200}, {500, 500, 500}}, 350.0},
  };
  for (const Example& example : examples) {
    std::vector<std::vector<double>> sample(example.payoff.size());
    for (std::size_t option = 0; option < sample.size(); ++option) {
      for (std::size_t state = 0; state < example.times.size(); ++state)
        sample[option].insert(sample[option].end(), static_cast<std::size_t>(example.times[state]),
                              example.payoff[option][state]);
    }
    CHECK(near_abs(value_of_knowing_all(Decision(sample)).value, example.printed, 1e-9));
  }
}

// The same by knowing the state alone, luck beside it: what the state tells is all there is.
TEST_CASE("knowing a state of few values") {
  constexpr std::array<std::array<double, 3>, 3> payoff = {{{10, 8, 6}, {14, 15, 2}, {7, 8, 9}}};
  std::vector<double> state;
  std::vector<std::vector<double>> sample(3);
  for (std::size_t s = 0; s < samples; ++s) {
    const double u = RandomBlocks(5)(Stream::inputs, s, 0)[0];
    state.push_back(u < 0.2 ? 0 : u < 0.6 ? 1 : 2);
    for (std::size_t option = 0; option < 3; ++option)
      sample[option].push_back(payoff[option][static_cast<std::size_t>(state.back())] +
                               5 * normal(s, 1 + option));
  }
  const Decision decision(sample);
  const Influence influence(decision, Blocks::cut(state, 32), false);
  check(value_of_knowing(decision, {&influence}), 2.8, 0.2);
}

TEST_CASE("two options, normal advantage: the unit normal loss integral") {
  struct Row {
    double mean, deviation, exact;
  };
  for (const Row& row : {Row{0, 10, 3.989422804014}, Row{5, 10, 1.977965574013}, Row{10, 10, 0.833154705877},
                         Row{-20, 10, 0.084907026168}, Row{8.5, 22, 5.173782529952}}) {
    CAPTURE(row.mean);
    REQUIRE(near_abs(normal_loss(row.mean, row.deviation), row.exact, 1e-9));
    // All luck known; an input known that brings half of the variance, the other half unknown; all by one input.
    const double half = row.deviation * std::sqrt(0.5);
    const Study study(row.mean, half, half);
    const Decision decision(study.net_benefit);
    check(value_of_knowing_all(decision), row.exact, 0.1);
    const Influence influence(decision, Blocks::cut(study.x, 32), false);
    check(value_of_knowing(decision, {&influence}), normal_loss(row.mean, half), 0.15, 1e-3 * row.deviation);
    const Study sharp(row.mean, row.deviation, 0.0);
    const Decision sharp_decision(sharp.net_benefit);
    const Influence all(sharp_decision, Blocks::cut(sharp.x, 32), false);
    check(value_of_knowing(sharp_decision, {&all}), row.exact, 0.2, 1e-3 * row.deviation);
  }
}

TEST_CASE("an input that changes nothing is worth nothing, within an error that noise explains") {
  int within = 0, nought = 0;
  constexpr int trials = 40;
  for (int t = 0; t < trials; ++t) {
    // A toss-up, where noise would look like worth.
    const Study study(0.0, 0.0, 10.0, static_cast<std::uint64_t>(100 + t));
    const Decision decision(study.net_benefit);
    const Influence influence(decision, Blocks::cut(study.x, 32), false);
    const Estimate found = value_of_knowing(decision, {&influence});
    CHECK(found.value >= 0);
    CHECK(found.error < 0.3);
    if (found.value <= 2 * found.error) ++within;
    if (found.value == 0.0) ++nought;
  }
  CHECK(within == trials);
  CHECK(nought >= trials - 4);
  // Far from a toss-up it is nothing without any doubt.
  const Study clear(-5.0, 0.0, 10.0);
  const Decision decision(clear.net_benefit);
  const Influence influence(decision, Blocks::cut(clear.x, 32), false);
  const Estimate found = value_of_knowing(decision, {&influence});
  CHECK(found.value == 0.0);
  CHECK(found.error == 0.0);
}

// Over many seeds the estimate is right on average and its error is what it varies by.
TEST_CASE("bias is taken off and errors are honest") {
  constexpr int trials = 60;
  const double exact = normal_loss(1.0, 1.0);
  double sum = 0, squares = 0, claimed = 0;
  for (int t = 0; t < trials; ++t) {
    const Study study(1.0, 1.0, 20.0, static_cast<std::uint64_t>(1000 + t));
    const Decision decision(study.net_benefit);
    const Influence influence(decision, Blocks::cut(study.x, 32), false);
    const Estimate found = value_of_knowing(decision, {&influence});
    sum += found.value / trials;
    squares += (found.value - exact) * (found.value - exact) / trials;
    claimed += found.error * found.error / trials;
  }
  CAPTURE(sum);
  CAPTURE(squares);
  CAPTURE(claimed);
  CHECK(near_abs(sum, exact, 3 * std::sqrt(squares / trials) + 0.02));
  CHECK(squares < 2.0 * claimed);
  CHECK(claimed < 4.0 * squares);
}

TEST_CASE("a group is worth what its members tell together") {
  std::vector<double> a, b, c;
  std::vector<std::vector<double>> benefit(2);
  for (std::size_t s = 0; s < samples; ++s) {
    a.push_back(normal(s, 0));
    b.push_back(normal(s, 1));
    // Tells what a tells, with something of its own.
    c.push_back(0.8 * a.back() + 0.6 * normal(s, 2));
    benefit[0].push_back(0.0);
    benefit[1].push_back(2.0 + 3.0 * a.back() + 4.0 * b.back() + 10.0 * normal(s, 3));
  }
  const Decision decision(benefit);
  const Influence of_a(decision, Blocks::cut(a, 32), true), of_b(decision, Blocks::cut(b, 32), false),
      of_c(decision, Blocks::cut(c, 32), true);
  check(value_of_knowing(decision, {&of_a}), normal_loss(2, 3), 0.1);
  check(value_of_knowing(decision, {&of_b}), normal_loss(2, 4), 0.1);
  // E[advantage | c] = 2 + 3 x 0.8 c.
  check(value_of_knowing(decision, {&of_c}), normal_loss(2, 2.4), 0.1);
  check(value_of_knowing(decision, {&of_a, &of_b}), normal_loss(2, 5), 0.15);
  // Beside a, c tells nothing more.
  check(value_of_knowing(decision, {&of_a, &of_c}), normal_loss(2, 3), 0.1);
}

TEST_CASE("a step in the middle of a range is found") {
  // Derived: the advantage is -4 below and +2 above the middle: known, it is worth half of 2.
  std::vector<double> x;
  std::vector<std::vector<double>> benefit(2);
  for (std::size_t s = 0; s < samples; ++s) {
    x.push_back(RandomBlocks(9)(Stream::inputs, s, 0)[0]);
    benefit[0].push_back(0.0);
    benefit[1].push_back((x.back() < 0.5 ? -4.0 : 2.0) + 5.0 * normal(s, 1));
  }
  const Decision decision(benefit);
  const Influence influence(decision, Blocks::cut(x, 32), false);
  check(value_of_knowing(decision, {&influence}), 1.0, 0.12);
}

TEST_SUITE_END();
