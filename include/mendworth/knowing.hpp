#pragma once

#include <string>
#include <vector>

/// What the uncertain numbers of a case mean for its answer, and what it is worth to know them better.
namespace mendworth {

/// Who can tell an uncertain number before anything is ordered.
enum class FoundOut {
  nobody,  ///< nobody: it is still to come
  owner,   ///< its owner: age, use, how long it is needed
  look,    ///< who looks inside and measures: fit, minutes, what is damaged
  asking,  ///< who asks a shop or a supplier: prices, times
  record,  ///< a shop's own record of such repairs: lives, chances
};

/// One uncertain number. Shares are of the variance of the saving over the futures, 0..1; errors are standard errors.
struct KnowingRow {
  std::string
      key;  ///< of the case; "fit.PART": which candidates of a part fit; "luck": all that is left to chance
            ///< when every number is known
  std::string label;  ///< in words, with the unit
  FoundOut found_out = FoundOut::nobody;
  double first = 0, first_error = 0;  ///< by how much the variance falls on average when this is known
  double total = 0, total_error = 0;  ///< what is left of it when all else is known
  /// Expected value of perfect information, case currency, >= 0: by how much the expected cost falls if this is known
  /// before the best of the options at hand is chosen. Nothing for luck, which cannot be known.
  double worth = 0, worth_error = 0;
  /// Whether that is more than noise explains.
  [[nodiscard]] bool is_worth_something() const noexcept { return worth > 2.0 * worth_error; }
};

/// The same for several of them, known together.
struct KnowingGroup {
  std::string
      name;  ///< "owner", "look", "asking", "record": by who can tell; "before-ordering": the first three; "all"
  std::vector<std::string> keys;
  double worth = 0, worth_error = 0;
  [[nodiscard]] bool is_worth_something() const noexcept { return worth > 2.0 * worth_error; }
};

struct Knowing {
  int futures = 0;                 ///< behind first-order shares and worths
  int total_futures = 0;           ///< behind total shares, and those of luck
  double deviation = 0;            ///< standard deviation of the saving over the futures
  std::vector<KnowingRow> inputs;  ///< worth most first, then the larger total share; luck last
  std::vector<KnowingGroup> groups;
  /// If all that is to come were known, luck too: no information can be worth more.
  double foresight = 0, foresight_error = 0;
};

/// The expected saving by repair over a grid of two numbers.
struct SavingGrid {
  struct Axis {
    std::string key, label;
    double current = 0;          ///< in the case: the base of a range
    std::vector<double> values;  ///< rising, at least two
  };
  struct Point {
    double saving = 0, error = 0;
  };
  /// A piece of the line on which the saving is nought, between grid lines, by linear interpolation.
  struct Piece {
    double across_from = 0, down_from = 0, across_to = 0, down_to = 0;
  };
  Axis across, down;
  std::vector<std::vector<Point>> rows;  ///< [of down][of across]
  std::vector<Piece> zero_line;          ///< in no order
};

}  // namespace mendworth
