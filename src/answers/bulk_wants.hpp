#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"
#include "numeric/demand.hpp"

/// Where the demand of a scenario comes from.
namespace mendworth {

class Fleet;

class Wants {
 public:
  virtual ~Wants() = default;
  Wants() = default;
  Wants(const Wants&) = delete;
  Wants& operator=(const Wants&) = delete;

  /// "40 devices, 9 with a failed part now", "6 jobs a month".
  [[nodiscard]] virtual std::string name() const = 0;
  /// Pieces of a part wanted within so many years, beside those wanted at once.
  [[nodiscard]] virtual Demand pieces(std::size_t part, double years) const = 0;
  /// Units that come in a year: one value for each way things may be.
  [[nodiscard]] virtual std::vector<double> units_per_year() const = 0;
  /// Pieces of a part wanted at once, and the devices that wait for them.
  [[nodiscard]] virtual int now(std::size_t) const { return 0; }
  [[nodiscard]] virtual int failed_devices() const { return 0; }
  /// What a record of past use told of it, part by part.
  [[nodiscard]] virtual std::vector<UseFit> past_use() const { return {}; }
  /// The number that says how much is wanted, and the same with so many times of it.
  struct Turned {
    std::string key, label;
    double now = 0;
    bool whole = false;
  };
  [[nodiscard]] virtual std::optional<Turned> turned() const { return std::nullopt; }
  [[nodiscard]] virtual std::unique_ptr<Wants> scaled(double factor) const = 0;
  [[nodiscard]] virtual const Fleet* fleet() const { return nullptr; }
};

/// All demands that are asked for, at least one. `c` must outlive them. Throws InputError where they are too many or too
/// large, or of another kind than the case's.
[[nodiscard]] std::vector<std::unique_ptr<Wants>> wants_of(const Case& c, const BulkSettings& settings);

}  // namespace mendworth
