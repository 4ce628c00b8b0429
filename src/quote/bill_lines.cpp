#include "quote/bill_lines.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

namespace mendworth {

namespace {

constexpr std::int64_t minutes_per_hour = 60;
constexpr double idle_minutes = 1e-6;  // what adding up in binary leaves over begins no increment

BillLine sum_line(LineKind kind, std::string text, Money amount) {
  BillLine line;
  line.kind = kind;
  line.text = std::move(text);
  line.amount = amount;
  return line;
}

/// Fills the lines of one job.
class JobLines {
 public:
  JobLines(const Shop& shop, const Till& till, double charge_rate, const Case& c, const JobWork& work,
           const BillWishes& wishes)
      : shop_(shop), till_(till), charge_rate_(charge_rate), case_(c), work_(work), wishes_(wishes) {}

  std::vector<BillLine> lines() {
    const FlatRate* flat = flat_rate();
    const bool parts_in_flat = flat != nullptr && flat->parts_included;
    if (diagnosis_apart()) {
      lines_.push_back(sum_line(LineKind::diagnosis, "Diagnosis", stated(*shop_.diagnosis_fee)));
    }
    lines_.push_back(flat != nullptr ? sum_line(LineKind::labour, flat->name, stated(flat->price))
                                     : labour());
    labour_ = lines_.back().amount;
    if (!parts_in_flat && !wishes_.parts_from_customer) add_parts();
    if (!parts_in_flat) add_sum(LineKind::consumables, "Consumables", consumables());
    if (!parts_in_flat && !wishes_.parts_from_customer && shop_.shipping == ShippingCharge::line) {
      add_sum(LineKind::shipping, "Shipping of the parts",
              till_.rounded(Exact::computed(work_.shipping_cost)));
    }
    if (wishes_.rush) add_sum(LineKind::rush, "Rush", rush());
    if (wishes_.collection && shop_.collection_fee) {
      add_sum(LineKind::collection, "Collection and return", stated(*shop_.collection_fee));
    }
    add_discount();
    return std::move(lines_);
  }

 private:
  [[nodiscard]] Money stated(double sum) const { return till_.rounded(Exact::decimal(sum)); }

  [[nodiscard]] Money share_of(double share, Money sum) const {
    return till_.rounded(Exact::decimal(share) * till_.units(sum));
  }

  void add_sum(LineKind kind, std::string text, Money amount) {
    if (amount != Money{}) lines_.push_back(sum_line(kind, std::move(text), amount));
  }

  [[nodiscard]] bool diagnosis_apart() const { return shop_.diagnosis_fee && !shop_.diagnosis_credited; }

  /// The fixed price that holds for this job, if any.
  [[nodiscard]] const FlatRate* flat_rate() const {
    int part = -1;
    for (const JobWork::Piece& piece : work_.pieces) {
      if (piece.pieces <= 0) continue;
      if (part >= 0 && piece.part != part) return nullptr;
      part = piece.part;
    }
    if (part < 0) return nullptr;
    const std::string& name = case_.parts.at(static_cast<std::size_t>(part)).name;
    const auto holds = [&](const FlatRate& flat) {
      return flat.part == name && flat.positions == work_.positions &&
             !(flat.parts_included && wishes_.parts_from_customer);
    };
    const auto found = std::ranges::find_if(shop_.flat_rates, holds);
    return found == shop_.flat_rates.end() ? nullptr : &*found;
  }

  [[nodiscard]] BillLine labour() const {
    const double apart = diagnosis_apart() ? work_.diagnosis_minutes : 0;
    BillLine line = time_line(shop_, till_.currency(), charge_rate_, LineKind::labour, work_.text,
                              std::max(0.0, work_.minutes - apart));
    const Money least = stated(shop_.minimum_charge);
    if (line.amount < least) return sum_line(LineKind::labour, work_.text + " (minimum charge)", least);
    return line;
  }

  /// What the order costs beside the goods, of one piece: by the value of the pieces, by their number if they have
  /// none.
  [[nodiscard]] Exact shipping_of(const JobWork::Piece& piece) const {
    if (shop_.shipping != ShippingCharge::spread) return {};
    Exact value;
    std::int64_t count = 0;
    for (const JobWork::Piece& each : work_.pieces) {
      const std::int64_t pieces = std::max(0, each.pieces);
      value += Exact::whole(pieces) * Exact::computed(each.unit_cost);
      count += pieces;
    }
    const Exact shipping = Exact::computed(work_.shipping_cost);
    if (value == Exact()) return shipping / Exact::whole(count);
    return shipping * Exact::computed(piece.unit_cost) / value;
  }

  [[nodiscard]] Exact markup_of(const Exact& cost) const {
    Exact times = Exact::whole(1);
    for (const MarkupBand& band : shop_.markup) {
      if (Exact::decimal(band.cost_from) <= cost) times = Exact::decimal(band.times);
    }
    return times;
  }

  void add_parts() {
    for (const JobWork::Piece& piece : work_.pieces) {
      if (piece.pieces <= 0) continue;
      const Exact cost = Exact::computed(piece.unit_cost) + shipping_of(piece);
      const Exact count = Exact::whole(piece.pieces);
      Money each = till_.rounded(cost * markup_of(cost));
      if (shop_.least_markup > 0) {
        // The sum is raised piece by piece, so that pieces times price still gives the line.
        const Exact least = cost + Exact::decimal(shop_.least_markup) / count;
        if (till_.units(each) < least) each = till_.rounded_up(least);
      }
      BillLine line = sum_line(LineKind::parts, piece.name, till_.rounded(count * till_.units(each)));
      line.unit = BillLine::Unit::pieces;
      line.quantity = piece.pieces;
      line.each = each;
      lines_.push_back(std::move(line));
    }
  }

  [[nodiscard]] Money consumables() const {
    if (shop_.consumables_flat) return stated(*shop_.consumables_flat);
    if (shop_.consumables_share) return share_of(*shop_.consumables_share, labour_);
    return till_.rounded(Exact::computed(work_.consumables));
  }

  [[nodiscard]] Money rush() const {
    if (shop_.rush_flat) return stated(*shop_.rush_flat);
    return shop_.rush_share ? share_of(*shop_.rush_share, labour_) : Money{};
  }

  /// Rounded once; its parts are the steps by which the rounded discount grows, kind after kind.
  void add_discount() {
    BillLine discount = sum_line(LineKind::discount, shop_.discount_name, {});
    Money reduced;
    for (const LineKind kind : {LineKind::labour, LineKind::parts, LineKind::consumables}) {
      for (const BillLine& line : lines_) reduced += line.kind == kind ? line.amount : Money{};
      const Money so_far = -share_of(shop_.discount_share, reduced);
      if (so_far != discount.amount) discount.parts.push_back({kind, so_far - discount.amount});
      discount.amount = so_far;
    }
    if (discount.amount != Money{}) lines_.push_back(std::move(discount));
  }

  const Shop& shop_;
  const Till& till_;
  double charge_rate_;
  const Case& case_;
  const JobWork& work_;
  const BillWishes& wishes_;
  std::vector<BillLine> lines_;
  Money labour_;
};

}  // namespace

BillLine time_line(const Shop& shop, const Currency& currency, double charge_rate, LineKind kind,
                   std::string text, double minutes) {
  const Till till(shop, currency);
  const double billed = billed_minutes(shop, minutes);
  const Exact rate = Exact::computed(charge_rate);
  BillLine line = sum_line(kind, std::move(text),
                           till.rounded(Exact::computed(billed) / Exact::whole(minutes_per_hour) * rate));
  line.unit = BillLine::Unit::hours;
  line.quantity = billed / static_cast<double>(minutes_per_hour);
  if (till.minor_units(rate).is_whole()) line.each = till.rounded(rate);
  return line;
}

double billed_minutes(const Shop& shop, double minutes) {
  const double step = shop.billing_increment_minutes;
  if (!(step > 0)) return minutes;
  const double full = std::floor(minutes / step);
  return (minutes - full * step < idle_minutes ? full : full + 1) * step;
}

std::vector<BillLine> job_lines(const Shop& shop, const Till& till, double charge_rate, const Case& c,
                                const JobWork& work, const BillWishes& wishes) {
  return JobLines(shop, till, charge_rate, c, work, wishes).lines();
}

}  // namespace mendworth
