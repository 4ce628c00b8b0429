#include "input/starter_comments.hpp"
#include "mendworth/shop.hpp"

namespace mendworth {

namespace {

constexpr const char* every_key =
    R"shop(# A shop for mendworth: how it charges and what it promises. Every figure here is invented: put in your own.
# Delete what does not matter: whatever is left out is not charged, or stands as the comments say.
# Money is in the shop's currency; shares, chances and taxes are fractions (20 % is 0.2). Where a comment says 'range',
# a number may be one: { low = 2, high = 6 } or { low = 2, likely = 4, high = 9 }.

[shop]
letterhead = ["Millrace Repairs", "4 Tannery Yard", "Open on weekdays"]  # at the head of the customer's page
currency = "EUR"               # ISO 4217 code; must be that of the case
licensed_for = ["mains"]

[writing]
decimal_mark = ","
group_mark = "."
currency = "€"
currency_first = false
date_form = "DD.MM.YYYY"

[labour]
charge_rate = 54
cost_rate = { low = 29, likely = 33, high = 40 }
billing_increment_minutes = 15
minimum_charge = 27

[[flat_rate]]
name = "One station button renewed"
part = "button"
positions = 1
price = 79
parts_included = true

[[flat_rate]]
name = "Two station buttons renewed"
part = "button"
positions = 2
price = 95
parts_included = true

[diagnosis]
fee = 25
credited = true
minutes = { low = 10, likely = 20, high = 40 }
walk_away = { low = 0.1, high = 0.3 }

[parts]
markup = [
  { cost_from = 0, times = 2.5 },
  { cost_from = 5, times = 1.6 },
  { cost_from = 40, times = 1.25 },
]
least_markup = 1
shipping = "spread"

[consumables]
flat = 2.50
# share = 0.05

[fees]
rush = 20
# rush_share = 0.5
collection = 15

[discount]
share = 0.05
name = "Opening discount"

[[tax]]
name = "VAT"
rate = 0.2
included = true
compound = false
exempt = ["collection"]

[payment]
tax_by = "total"
cash_step = 0.05
deposit_share = 0.3
deposit_from = 100
deposit_covers_parts = true

[terms]
valid_days = 14
warranty_days = 180
not_to_exceed = 0.1
# ceiling_confidence = 0.9
no_cure_no_fee = false
no_cure_charge = 20
liability = 150
text = [
  "The warranty ends when somebody else opens the device.",
  "Old parts are kept for thirty days and then recycled.",
]

[workmanship]
come_back = { low = 0.01, likely = 0.02, high = 0.05 }
come_back_minutes = 30

[margin]
target = 0.3

[subsidy]
name = "Town repair voucher"
share = 0.5
cap = 80
registered = false
until = 2030-12-31
)shop";

}  // namespace

std::string starter_shop() { return input::commented(every_key, shop_inputs()); }

}  // namespace mendworth
