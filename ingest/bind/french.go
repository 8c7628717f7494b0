package bind

import "drytally/compute"

// frenchHeadings are headings a mill in Quebec writes, by kind of table and field, without their accents: headings are compared
// without. Words that mean two things (charge is a load, humidite is of wood or of air) are parted by their tables, as in English.
var frenchHeadings = map[compute.Kind]map[string][]string{
	compute.KindCuts: {
		"species": frenchWoods, "green thickness": frenchThickness, "green width": frenchWidth, "length": frenchLength, "pieces": frenchPieces,
		"sawn at": {"scie a", "reglage"}, "lot": {"lot", "planche", "bille", "no de bille"}, "load": frenchLoads, "sawing": {"debit", "sciage"},
		"date": {"date de sciage", "date sciee", "scie le", "jour"}, "stickered": {"lattes", "baguettes"}, "note": frenchNotes,
	},
	compute.KindBoards: {
		"board": frenchBoards, "load": frenchLoads, "species": frenchWoods, "dry thickness": append([]string{"epaisseur seche"}, frenchThickness...),
		"dry width": append([]string{"largeur seche"}, frenchWidth...), "length": frenchLength, "green thickness": {"epaisseur verte", "epaisseur sciee"},
		"green width": {"largeur verte", "largeur sciee"}, "cup": {"tuilage"}, "bow": {"voilement de face", "fleche de face"}, "crook": {"fleche de rive"},
		"twist": {"gauchissement", "torsion"}, "cut out": {"noeuds", "defauts", "a couper", "a enlever"}, "course": frenchCourses, "spot": frenchSpots,
		"reading": frenchReadings, "wood temperature": frenchWoodTemps, "date": {"jour", "mesure le", "date de mesure"}, "note": frenchNotes,
	},
	compute.KindReadings: {
		"board": frenchBoards, "load": frenchLoads, "course": frenchCourses, "spot": frenchSpots, "reading": frenchReadings, "which meter": {"appareil"},
		"wood temperature": frenchWoodTemps, "date": {"jour", "mesure le", "date de mesure", "lu le"}, "depth": {"profondeur"}, "where": {"ou", "endroit"}, "note": frenchNotes,
	},
	compute.KindWeights: {
		"sample": {"echantillon", "planche temoin", "temoin", "planche"}, "load": frenchLoads, "date": {"jour", "pese le", "date de pesee"},
		"weight": {"poids", "masse", "pesee"}, "section wet": {"poids humide", "section humide", "humide"}, "section ovendry": {"poids anhydre", "section anhydre", "anhydre", "sec au four"}, "note": frenchNotes,
	},
	compute.KindAir: {
		"date": {"jour", "date et heure"}, "time": {"heure"}, "dry bulb": {"temperature seche", "thermometre sec", "bulbe sec", "temperature du sechoir"},
		"wet bulb": {"temperature humide", "thermometre humide", "bulbe humide"}, "humidity": {"humidite", "humidite relative"}, "where": {"ou", "endroit"}, "load": frenchLoads,
		"running": {"en marche", "ventilateurs"}, "note": frenchNotes,
	},
	compute.KindWanted: {
		"piece": {"morceau", "article", "nom"}, "species": frenchWoods, "finished thickness": append([]string{"epaisseur finie"}, frenchThickness...),
		"finished width": append([]string{"largeur finie"}, frenchWidth...), "length": append([]string{"longueur finie"}, frenchLength...), "pieces": frenchPieces,
		"area": {"surface", "superficie", "aire"}, "openings": {"ouvertures", "portes et fenetres"}, "wall height": {"hauteur", "hauteur du mur"}, "wall width": {"largeur du mur", "longueur du mur"},
		"face": {"face visible", "pureau"}, "profile": {"profil"}, "use": {"usage", "utilisation", "emploi"}, "waste": {"perte", "pertes"}, "note": frenchNotes,
	},
	compute.KindLoads: {
		"load": frenchLoads, "species": frenchWoods, "use": {"usage", "utilisation", "emploi"}, "limit": {"limite", "humidite maximale"}, "date in": {"date entree", "date d entree", "entree", "entree le"},
		"date out": {"date sortie", "date de sortie", "sortie", "sortie le"}, "boards": append([]string{"planches", "nombre de planches", "nb de planches", "nb planches"}, frenchPieces...),
		"courses": {"rangs", "nombre de rangs"}, "spots": {"planches par rang"}, "note": frenchNotes,
	},
	compute.KindSold: {
		"sale": {"vente", "no de vente", "facture", "no de facture"}, "load": frenchLoads, "boards": append([]string{"planches"}, frenchBoards...), "pieces": frenchPieces,
		"buyer": {"acheteur", "client", "vendu a"}, "use": {"usage", "utilisation"}, "own use": {"usage propre", "pour nous"}, "date": {"jour", "vendu le", "date de vente"},
		"price": {"prix"}, "sum": {"prix total", "montant"}, "note": frenchNotes,
	},
	compute.KindClimate: {"month": {"mois"}, "temperature": {"temperature moyenne"}, "humidity": {"humidite", "humidite relative", "humidite moyenne"}, "where": {"endroit"}, "note": frenchNotes},
}

var (
	frenchWoods     = []string{"essence", "bois", "espece", "essence de bois"}
	frenchThickness = []string{"epaisseur", "epais", "ep"}
	frenchWidth     = []string{"largeur", "larg"}
	frenchLength    = []string{"longueur", "long"}
	frenchPieces    = []string{"nb", "nbre", "nombre", "quantite", "qte", "morceaux", "nb de pieces", "nombre de pieces"}
	frenchBoards    = []string{"planche", "no de planche", "numero de planche", "numero"}
	frenchLoads     = []string{"charge", "chargement", "fournee", "no de charge", "lot de sechage"}
	frenchCourses   = []string{"rang", "rangee", "etage"}
	frenchSpots     = []string{"place", "position"}
	frenchReadings  = []string{"lecture", "lectures", "humidite", "humidite du bois", "teneur en humidite", "taux d humidite"}
	frenchWoodTemps = []string{"temperature du bois", "temperature bois", "temp du bois", "temp bois"}
	frenchNotes     = []string{"remarque", "remarques", "commentaire", "commentaires", "notes diverses"}
)
