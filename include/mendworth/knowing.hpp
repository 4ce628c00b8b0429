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
  std::string label;                      ///< in words, with the unit
  FoundOut found_out = FoundOut::nobody;  ///< who can tell it
  double first = 0;                       ///< by how much the variance falls on average when this is known
  double first_error = 0;                 ///< standard error
  double total = 0;                       ///< what is left of it when all else is known
  double total_error = 0;                 ///< standard error
  /// Expected value of perfect information, case currency, >= 0: by how much the expected cost falls if this is known
  /// before the best of the options at hand is chosen. Nothing for luck, which cannot be known.
  double worth = 0;        ///< money
  double worth_error = 0;  ///< standard error
  /// Whether that is more than noise explains.
  [[nodiscard]] bool is_worth_something() const noexcept { return worth > 2.0 * worth_error; }
};

/// The same for several of them, known together.
struct KnowingGroup {
  std::string
      name;  ///< "owner", "look", "asking", "record": by who can tell; "before-ordering": the first three; "all"
  std::vector<std::string> keys;  ///< of the inputs in the group
  double worth = 0;               ///< as of one number
  double worth_error = 0;         ///< standard error
  /// Whether that is more than noise explains.
  [[nodiscard]] bool is_worth_something() const noexcept { return worth > 2.0 * worth_error; }
};

/// What the ranges of a case bring to the variance of the saving, and what each is worth to know.
struct Knowing {
  int futures = 0;                   ///< behind first-order shares and worths
  int total_futures = 0;             ///< behind total shares, and those of luck
  double deviation = 0;              ///< standard deviation of the saving over the futures
  std::vector<KnowingRow> inputs;    ///< worth most first, then the larger total share; luck last
  std::vector<KnowingGroup> groups;  ///< those known together
  /// If all that is to come were known, luck too: no information can be worth more.
  double foresight = 0;        ///< money, >= 0
  double foresight_error = 0;  ///< standard error
};

/// The expected saving by repair over a grid of two numbers.
struct SavingGrid {
  /// A number that the grid varies.
  struct Axis {
    std::string key;             ///< of the case
    std::string label;           ///< in words, with the unit
    double current = 0;          ///< in the case: the base of a range
    std::vector<double> values;  ///< rising, at least two
  };
  /// The saving where two of their values meet.
  struct Point {
    double saving = 0;  ///< expected, money
    double error = 0;   ///< one standard error of the simulation
  };
  /// A piece of the line on which the saving is nought, between grid lines, by linear interpolation.
  struct Piece {
    double across_from = 0;  ///< value of `across` at its one end
    double down_from = 0;    ///< of `down`
    double across_to = 0;    ///< at its other end
    double down_to = 0;      ///< of `down`
  };
  Axis across;                           ///< the number that varies along a row
  Axis down;                             ///< the number that varies from row to row
  std::vector<std::vector<Point>> rows;  ///< [of down][of across]
  std::vector<Piece> zero_line;          ///< in no order
};

}  // namespace mendworth
