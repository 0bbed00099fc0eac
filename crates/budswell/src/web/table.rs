//! Every route in one table: its method, its address, what its requests carry and how heavy they are, and who answers.
//!
//! The router, the lanes and the tests read the same table, so that a new route cannot be forgotten by one of them.

/// What a route's requests carry, and how much work they are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Reads; carries nothing.
    Page,
    /// Reads, and opens a picture for it.
    Picture,
    /// Writes; the fields of a form.
    Form,
    /// Writes after heavy work; the fields of a form.
    Work,
    /// Writes after heavy work; a form of many parts, with a file.
    Parts,
    /// Asks somebody far away, and waits for the answer; carries nothing.
    Far,
    /// Writes; a batch of a sensor's readings as JSON.
    Readings,
}

/// A route.
#[derive(Clone, Copy, Debug)]
pub struct Route {
    /// `get` or `post`.
    pub method: &'static str,
    /// The address, with `{names}` for what stands in it.
    pub path: &'static str,
    /// What it carries.
    pub kind: Kind,
}

/// Hands every route to a macro: method, address, kind, handler.
macro_rules! for_routes {
    ($use:ident) => {
        $use! {
            get "/" Page read::today;
            get "/tonight" Page tonight::page;
            get "/tonight.json" Page tonight::json;
            get "/tonight.ics" Page tonight::calendar;
            get "/waking" Page read::waking;
            get "/round" Page round::round;
            post "/round" Form round::walk;
            get "/round/card" Page round::card;
            post "/round/weigh" Form round::weigh;
            post "/round/take-back" Form round::take_back;
            post "/round/fed" Form round::fed;
            post "/round/away" Form round::away;
            post "/round/come-back" Form round::come_back;
            post "/round/times" Form round::times;
            get "/feed" Page feed::feed;
            get "/what-if" Page read::what_if;
            get "/trees/{key}" Page read::tree;
            post "/trees/{key}/edit" Form write::edit_tree;
            post "/trees/{key}/look" Form write::look;
            post "/trees/{key}/leaves" Form write::leaves;
            post "/trees/{key}/work" Form write::work;
            get "/trees/{key}/limbs" Page limbs::page;
            post "/trees/{key}/limbs/{limb}" Form limbs::record;
            get "/trees/{key}/tree.mtg" Page limbs::graph;
            post "/trees/{key}/tree.mtg" Parts limbs::take_graph;
            post "/trees/{key}/intentions" Form limbs::intend;
            post "/trees/{key}/intentions/{id}/end" Form limbs::end;
            post "/trees/{key}/calipers" Form limbs::caliper;
            post "/trees/{key}/written/{what}/{id}/back" Form limbs::drop_line;
            post "/trees/{key}/rules" Form limbs::rule;
            post "/trees/{key}/aim" Form limbs::aim;
            get "/trees/{key}/bench" Page bench::bench;
            post "/trees/{key}/cuts" Form bench::cut;
            post "/trees/{key}/cuts/{id}/count" Form plans::count;
            get "/trees/{key}/plans" Page plans::plans;
            get "/trees/{key}/front" Page front::round;
            post "/trees/{key}/front" Form front::keep_front;
            post "/trees/{key}/front/drop" Form front::drop_front;
            get "/pots" Page pots::pots;
            post "/pots" Form pots::add;
            get "/pots/new" Page pots::new;
            get "/pots/share" Page pairs::share;
            post "/pots/rules" Form pairs::rule;
            post "/pots/photos/{key}/drop" Form pots::drop_photo;
            get "/pots/photos/{key}/colour" Page pots::mark_glaze;
            post "/pots/photos/{key}/colour" Work pots::read_glaze;
            get "/pots/photos/{key}/{size}" Page pots::picture;
            get "/pots/{key}" Page pots::pot;
            post "/pots/{key}" Form pots::edit;
            post "/pots/{key}/photos" Parts pots::send_photo;
            post "/pots/{key}/where" Form pots::whereabouts;
            post "/pots/{key}/strike" Form pots::strike;
            post "/pots/{key}/reserve" Form pairs::reserve;
            post "/pots/{key}/unreserve" Form pairs::unreserve;
            get "/repots" Page repots::repots;
            get "/soil" Page repots::soil;
            post "/soil/stock" Form repots::stock;
            post "/soil/blend" Form repots::blend;
            get "/trees/{key}/pots" Page pairs::of_tree;
            post "/trees/{key}/liking" Form pairs::like;
            post "/trees/{key}/stature" Form pairs::stature;
            post "/trees/{key}/grown" Form pairs::grown;
            post "/trees/{key}/tint" Form pairs::tint;
            get "/trees/{key}/repot" Page repots::bench;
            post "/trees/{key}/repot" Parts repots::log;
            post "/trees/{key}/repot/meant" Form repots::mean;
            post "/trees/{key}/repot/seen" Form repots::look;
            post "/trees/{key}/repot/vigour" Form repots::vigour;
            post "/trees/{key}/repot/toll" Form repots::toll;
            post "/trees/{key}/repot/{what}/{which}/back" Form repots::take_back;
            get "/wires" Page wires::all;
            post "/wires/shelf" Form wires::shelf;
            get "/trees/{key}/wires" Page wires::of_tree;
            post "/trees/{key}/wires" Form wires::put_on;
            post "/trees/{key}/wires/{id}" Parts wires::check;
            get "/trees/{key}/layers" Page layers::layers;
            post "/trees/{key}/layers" Form layers::begin;
            post "/trees/{key}/layers/{id}/look" Form layers::look;
            post "/trees/{key}/layers/{id}/apart" Form layers::apart;
            post "/trees/{key}/wounds/{id}" Form layers::wound;
            post "/trees/{key}/photos" Parts photos::send;
            get "/photos/{key}/trace" Page photos::trace;
            post "/photos/{key}/trace" Form photos::keep_trace;
            get "/photos/{key}/outline" Picture photos::outline;
            post "/photos/{key}/outline" Form photos::paint;
            get "/photos/{key}/overlay" Picture photos::overlay;
            post "/photos/{key}/drop" Form photos::drop_photo;
            get "/photos/{key}/{size}" Page photos::picture;
            post "/trees" Form write::add_tree;
            post "/trees/{key}/take-back" Form write::take_back;
            post "/moves" Form write::moves;
            get "/places" Page read::places;
            post "/places" Form write::add_place;
            get "/places/{key}" Page places::place;
            post "/places/{key}/incidents" Form places::answer;
            post "/places/{key}/incidents/{id}/undo" Form places::undo;
            post "/places/{key}/ice" Form places::ice;
            post "/places/{key}/ice/{id}/undo" Form places::undo_ice;
            get "/mixes" Page mixes::mixes;
            post "/mixes" Form mixes::add;
            post "/mixes/potted" Form mixes::pot;
            post "/mixes/crown" Form mixes::crown;
            get "/mixes/{key}/bucket" Page mixes::bucket;
            post "/mixes/{key}/bucket" Form mixes::weigh;
            get "/bring" Page import::form;
            post "/bring" Parts import::preview;
            post "/bring/yes" Work import::confirm;
            get "/backup" Page backup::page;
            post "/backup" Work backup::make;
            get "/backup/{name}" Page backup::download;
            get "/backup/{name}/restore" Page backup::ask;
            post "/backup/{name}/restore" Work backup::restore;
            get "/bring/example/{kind}" Page import::example;
            get "/start" Page read::start;
            get "/site" Page read::site;
            post "/site" Form write::site;
            post "/fetch" Far fetch::fetch;
            post "/api/readings" Readings readings::readings;
            post "/clock" Form clock::trust;
            get "/assets/{name}" Page read::asset;
        }
    };
}

macro_rules! listed {
    ($($method:ident $path:literal $kind:ident $handler:path;)*) => {
        &[$(Route { method: stringify!($method), path: $path, kind: Kind::$kind }),*]
    };
}

/// Every route.
pub const ROUTES: &[Route] = for_routes!(listed);
