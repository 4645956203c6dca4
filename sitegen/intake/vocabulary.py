"""Words by what they do in a sentence: function words, heads of places' names, verbs of asking and of reporting.

Lists of English and of the trade, common practice, no source.
"""

from __future__ import annotations


def word_set(text: str) -> frozenset[str]:
    """The words of a text, for looking words up."""
    return frozenset(text.split())


FUNCTION_WORDS = word_set("""a an the this that these those my your his her its our their some any every each no all both either neither another other
    i you he she it we they me him us them who whom whose which what when where why how there here
    and or but nor so yet for if because as than though although while until till unless since whether
    of in on at to from by with about into onto over under up down out off through during before after between among against along
    across around behind beside besides near inside outside without within toward towards upon via per like except
    is are was were be been being am do does did doing done have has had having will would can could shall should may might must
    not don't doesn't didn't isn't aren't wasn't weren't won't wouldn't can't couldn't haven't hasn't hadn't
    i'm you're he's she's it's we're they're i've you've we've they've i'll you'll he'll she'll it'll we'll they'll
    i'd you'd he'd she'd we'd they'd that's there's here's what's who's where's let's
    very too also just only even still already again ever never now then soon once more most much many few less least
    well yes no okay oh please back away ago""")

TITLES = word_set("""mr mrs ms miss dr doctor professor sister father reverend rev pastor rabbi captain coach chief sergeant officer deputy sheriff
    judge mayor senator saint st principal superintendent sir madam aunt uncle lieutenant colonel""")

VERBS_OF_SPEECH = word_set("says said tells told reports asks asked explains thinks hopes adds joins has")

STRONG_PLACE_HEADS = word_set("""library school elementary church chapel cathedral temple synagogue mosque parish hall center centre station firehouse
    courthouse grange armory lodge legion gymnasium gym museum gallery theater theatre cinema bank branch
    store shop market supermarket grocery grocer bakery deli diner cafe café restaurant pizzeria tavern brewery brewpub
    winery farm orchard nursery greenhouse hardware pharmacy drugstore clinic hospital hospice shelter pantry
    kitchen laundry laundromat cleaners salon barbershop dealership garage motors depot terminal airport marina
    boathouse clubhouse playground stadium arena rink plaza mall fairgrounds fairground office offices co-op coop warehouse inn
    hotel motel campground lighthouse university college academy kindergarten daycare preschool bookstore florist
    newsstand rectory convent monastery abbey mission headquarters conservatory aquarium zoo planetarium auditorium
    coliseum ballroom barn sanctuary union high junior cannery creamery dairy boatyard brewhouse taproom tearoom
    bistro eatery pub lanes arcade stables ranch institute annex amphitheater bandstand precinct cooperative preserve observatory
    roastery cidery distillery sawmill boutique emporium chandlery locksmith cemetery landfill dump playhouse taqueria cantina bodega panaderia tienda
    carniceria delicatessen butcher apothecary optician infirmary tabernacle mortuary jail barracks campus cafeteria natatorium tailor cobbler speedway ballpark hangar airstrip
    arboretum vineyard saloon stationers veterinary dormitory guildhall rotunda granary foundry capitol florists jeweler jewelers dentist mart dealer pawnshop makerspace allotments bandshell shack vo-tech optometrist fieldhouse pumphouse gatehouse roundhouse substation vfw
    larder registry commissary carwash cleaner dispensary hostel lounge kennel kennels stable hatchery tannery smithy forge waterworks gurdwara
    seminary residence jetty boardwalk promenade drive-in cyclery marketplace grill grille luncheonette creperie patisserie parlor spa raceway ymca ywca
    firehall meetinghouse statehouse consulate dojo hub atrium carousel velodrome greenhouses treehouse creche crèche aviary butchery chocolatier greengrocer
    haberdashery milliner stockyards stockyard shipyard merc printer printers upholsterer mercantile
    lido skatepark bathhouse poolhouse trattoria osteria brasserie gelateria meadery confectioner confectioners confectionery ironmonger ironmongers fishmonger
    fishmongers cheesemonger stationer bookseller booksellers bookshop newsagent newsagents draper drapers tailors bakers butchers barbers saddler
    saddlery glazier chiropractor orthodontist podiatrist pediatrician laundrette launderette washateria cooperage brickworks ironworks gasworks glassworks
    steelworks saltworks ropeworks fishery classroom courtroom showroom storeroom stockroom mailroom lunchroom bunkhouse playfield ballfield ballfields racetrack
    racecourse showgrounds campsite dockyard esplanade priory friary deanery vestry vicarage manse parsonage minster basilica shul mandir undercroft sacristy cloister
    cloisters columbarium crematorium gristmill windmill watermill sugarhouse apiary paddock corral hothouse athenaeum lyceum atelier hackerspace customhouse tollbooth
    tollgate tollhouse drydock slipway boatshed bandroom greenroom airfield airpark aerodrome heliport multiplex cineplex nightclub hacienda farmstead livery cattery
    menagerie bazaar superstore minimart mini-mart canteen snackbar steakhouse chophouse smokehouse roadhouse alehouse teahouse coffeehouse schoolhouse almshouse
    orphanage polyclinic laboratory morgue undertaker undertakers fruiterer grocers bindery clubroom clubrooms playroom weighhouse icehouse carriagehouse farmhouse
    guesthouse lodgings bookmobile toyshop sweetshop tackleshop boatworks sailmaker farrier blacksmith gunsmith goldsmith silversmith watchmaker clockmaker shoemaker
    bootmaker dressmaker seamstress cabinetmaker beautician hairdresser hairdressers acupuncturist audiologist pharmacist herbalist groomer groomers luthier chandlers""")
"""A noun phrase that ends with one of these and stands in a direction is a place."""

WEAK_PLACE_HEADS = word_set("""bar house field post garden gardens pier dock wharf harbor park square mill works club studio books beach corner place
    room lot fund foundation tower building complex commons green landing point trailhead pavilion gazebo stand stop counter
    porch basement lobby desk door factory plant yard home bay track course court common food foods toys music workshop pool stand cottage manor supply ramp underpass overpass barber elevator shed booth terrace villa society exchange dormitory alley levee quarry department bureau
    deck wash slip monument fountain archives cabin hut council kiosk greenway pound hangout depository plot bakehouse bleachers cellar loft attic chapter pen
    lab courts stalls greenspace clocktower belfry steeple courtyard forecourt breezeway carport driveway veranda verandah patio solarium sunroom mudroom vestibule foyer
    entryway hallway mezzanine silo cubby cupola stoop pantries laboratories trailers cabins tipi yurt tent marquee grandstand basin moorings anchorage jetties wharves
    footbridge overlook lookout viewpoint cul-de-sac playpark bothy sugarbush pasture paddocks causeway embankment waterfront riverfront lakefront seawall
    breakwater boathouses pottery joinery ropewalk bakeshop surgery maltings fishmarket quayside toolshed woodshed dorm parkade sheds barns docks piers rooms cottages
    chambers kilns silos stalls slips berths vaults cellars orchards baths sauna cookhouse messroom pumproom turret pit""")
"""These are places only with a name before them."""

TRADE_HEADS = word_set("""feed tire tires bait tackle goods drug drugs lumber seed paint glass consolidated savings trust cycles bikes appliance furniture
    electric plumbing sports outfitters provisions fabrics yarn vet company autos auto pawn repair music pizza donuts meats cleaning
    coffee records video pets jewelry optical dental insurance printing crafts hobby hobbies flooring towing welding marine salvage recycling rental rentals
    storage produce seafood chocolates bagels motorcycles lighting hearing framing antiques vacuum upholstery bicycles bicycle equipment implement tractor lutheran methodist baptist presbyterian episcopal congregational mennonite unitarian adventist pentecostal catholic""")
"""These are places only with a proper name before them: `Burdick's Feed`."""

GOODS = word_set("""alterations tailoring dressmaking embroidery upholstering quilting quilts fabric wool wools yarns linens textiles uniforms menswear womenswear bridal clothing clothes
    shoes boots footwear hats millinery leather luggage bread breads cakes cupcakes pastries pastry pies pie cookies candy candies sweets fudge chocolate icecream custard
    cream yogurt bagel doughnuts donut doughnut waffles pancakes sandwiches subs hoagies burgers barbecue bbq barbeque tacos tamales empanadas noodles ramen sushi pho dumplings
    curry chowder clams oysters lobster lobsters fish crab shrimp poultry eggs cheese cheeses milk honey cider wine wines spirits liquor liquors beer beers ales brewing
    roasters roasting coffees tea teas juice juices groceries grains milling flour stationery cards gifts novelties souvenirs collectibles comics games puzzles stamps
    coins trophies engraving signs signage copies copying photo photos photography cameras portraits frames watches clocks clock jewels gems eyewear eyeglasses spectacles
    vision hair nails nail beauty barbering massage yoga pilates fitness karate judo boxing gymnastics dance ballet skating swimming hvac heating cooling refrigeration
    oil fuel gas propane coal firewood stoves fireplaces chimney chimneys roofing windows doors keys glazing drywall masonry stone brick bricks concrete gravel sand
    timber hardwoods millwork cabinets cabinetry carpentry woodworking furnishings mattresses bedding carpet carpets rugs tile tiles blinds draperies curtains lamps
    paints wallpaper computers electronics phones wireless cellular radio television tv stereo software batteries collision transmission mufflers brakes radiators hubcaps
    body wrecking wreckers hauling trucking freight moving movers taxi cab cabs limousine coaches charter charters tours travel boats sails canvas rigging nautical ropes
    rope nets guns archery surf surfing skis ski kayaks canoes paddles camping landscaping lawn mowers mower tractors trees nurseries bulbs flowers floral plants herbs
    seeds grooming aquatics saddles tack feeds hay grain realty realtors properties mortgage credit loans finance financial accounting tax law legal notary title bancorp
    bancshares federal orthopedics dermatology therapy rehab eyecare dentistry orthodontics chiropractic wellness veterinarian counseling care typewriters shoe boat sewing machine
    machines machinery tools tool supplies iron metals metal welders ironwork pottery ceramics china crockery glassware kitchenware housewares lace buttons beads
    drycleaning pressing exterminators pest sanitation septic disposal recyclers scrap surplus thrift resale consignment antique curios""")
"""What shops are called by, behind a name alone: `Fontaine Alterations`, `Brill's Shoes`."""
